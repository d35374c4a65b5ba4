// The page in the panel of a review, as text: how it looks, and a script that says what was clicked, and no more.

const STYLE = `
body{margin:0;padding:8px 16px 40px;background:var(--vscode-editor-background);color:var(--vscode-editor-foreground);
font:var(--vscode-font-size,13px)/1.5 var(--vscode-font-family,sans-serif)}
h1{font-size:1.3em;margin:.5em 0}h2{font-size:1.1em;margin:1.8em 0 .4em;padding-bottom:.2em;border-bottom:1px solid var(--rule)}
:root{--rule:var(--vscode-contrastBorder,var(--vscode-panel-border,currentColor))}
table{border-collapse:collapse;margin:.8em 0;display:block;overflow-x:auto}
th,td{text-align:left;vertical-align:top;padding:.2em .8em .2em 0;border-bottom:1px solid var(--rule)}th{font-weight:600}td{overflow-wrap:break-word;min-width:4em}
ul{padding-left:1.4em}li{margin:.2em 0}
a{color:var(--vscode-textLink-foreground);text-decoration:underline}a:hover{color:var(--vscode-textLink-activeForeground)}
#ask{display:flex;flex-wrap:wrap;gap:.4em;margin:.4em 0}
button{font:inherit;padding:.2em .9em;cursor:pointer;background:var(--vscode-button-secondaryBackground);color:var(--vscode-button-secondaryForeground);
border:1px solid var(--vscode-button-border,transparent)}
:focus-visible{outline:1px solid var(--vscode-focusBorder);outline-offset:2px}`

const SCRIPT = `
const editor = acquireVsCodeApi()
for (const id of ['again', 'all'])
  document.getElementById(id).addEventListener('click', () => editor.postMessage({ again: { all: id === 'all' } }))
document.addEventListener('click', (event) => {
  const link = event.target.closest('a')
  if (!link) return
  event.preventDefault()
  editor.postMessage({ go: Number(link.getAttribute('href').slice(1)) })
})
`

/** Nothing is loaded, and only what carries `nonce`, this page's own word, runs. `body` is the server's, in which all text of documents is escaped. */
export function reviewPage(title: string, body: string, nonce: string): string {
  const shown = title.replace(/[&<]/g, (sign) => (sign === '&' ? '&amp;' : '&lt;'))
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${shown}</title>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'nonce-${nonce}'; script-src 'nonce-${nonce}'">
<style nonce="${nonce}">${STYLE}</style></head>
<body><main><p id="ask"><button id="again">Review again</button><button id="all">Show everything</button></p>
${body}</main><script nonce="${nonce}">${SCRIPT}</script></body></html>`
}
