// Text in HTML, SVG and XML says what it says: nothing in it is markup, between tags and in quoted attributes alike.

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' }

export const escapedHtml = (text: string): string => text.replace(/[&<>"']/g, (sign) => ENTITIES[sign]!)
