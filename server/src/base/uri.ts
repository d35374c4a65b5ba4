// One spelling for one file: clients encode URIs differently (`file:///c%3A/x`, `file:///c:/x`), and the index needs them equal.

export function normalUri(uri: string): string {
  const match = /^([a-zA-Z][\w+.-]*:(?:\/\/[^/]*)?)(.*)$/s.exec(uri)
  if (!match) return uri
  const [, head, path] = match
  try {
    return head + decodeURIComponent(path!).split('/').map(encodeSegment).join('/')
  } catch {
    return uri
  }
}

const encodeSegment = (segment: string): string =>
  encodeURIComponent(segment).replace(/%(?:3A|40|2B|24|26|2C|3B|3D)/gi, (code) => decodeURIComponent(code))
