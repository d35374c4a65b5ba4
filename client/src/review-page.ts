// How the panel of a review looks, and the script inside it, as texts: the page says what was clicked, and no more.

export const REVIEW_STYLE = `
body{margin:0;padding:8px 16px 40px;background:var(--vscode-editor-background);color:var(--vscode-editor-foreground);
font:var(--vscode-font-size,13px)/1.5 var(--vscode-font-family,sans-serif)}
h1{font-size:1.3em;margin:.5em 0}h2{font-size:1.1em;margin:1.8em 0 .4em;padding-bottom:.2em;border-bottom:1px solid var(--rule)}
:root{--rule:var(--vscode-contrastBorder,var(--vscode-panel-border,currentColor))}
table{border-collapse:collapse;margin:.8em 0;display:block;overflow-x:auto}
th,td{text-align:left;vertical-align:top;padding:.2em .8em .2em 0;border-bottom:1px solid var(--rule)}th{font-weight:600}td{overflow-wrap:anywhere;min-width:4em}
ul{padding-left:1.4em}li{margin:.2em 0}
a{color:var(--vscode-textLink-foreground);text-decoration:underline}a:hover{color:var(--vscode-textLink-activeForeground)}
button{font:inherit;padding:.2em .9em;cursor:pointer;background:var(--vscode-button-secondaryBackground);color:var(--vscode-button-secondaryForeground);
border:1px solid var(--vscode-button-border,transparent)}
:focus-visible{outline:1px solid var(--vscode-focusBorder);outline-offset:2px}`

export const REVIEW_SCRIPT = `
const editor = acquireVsCodeApi()
document.getElementById('again').addEventListener('click', () => editor.postMessage({ again: true }))
document.addEventListener('click', (event) => {
  const link = event.target.closest('a')
  if (!link) return
  event.preventDefault()
  editor.postMessage({ go: Number(link.getAttribute('href').slice(1)) })
})
`
