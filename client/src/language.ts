// The name by which the editor knows our documents, and the prefix of our settings.
export const LANGUAGE = 'rollbook'
