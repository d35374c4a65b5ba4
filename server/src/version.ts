// The product's version, put in by the bundler from package.json.
declare const ROLLBOOK_VERSION: string | undefined

export const VERSION: string = typeof ROLLBOOK_VERSION === 'string' ? ROLLBOOK_VERSION : '0.0.0-dev'
