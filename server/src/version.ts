// The product's version, put in by the bundler from package.json.
declare const ROLLBOOK_VERSION: string | undefined

export const VERSION: string = typeof ROLLBOOK_VERSION === 'string' ? ROLLBOOK_VERSION : '0.0.0-dev'

/** Whether this is the bundle, and no run from source. */
export const BUNDLED = typeof ROLLBOOK_VERSION === 'string'
