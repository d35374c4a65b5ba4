// The script inside the picture panel, as text: the page is made of nothing else. It shows what the server drew, follows the cursor's line, and says what was
// clicked. It scrolls by entries, not by shares of the height, and never moves the editor by itself.

export const PICTURE_SCRIPT = `
const editor = acquireVsCodeApi()
const page = document.getElementById('page')
const own = (id) => document.getElementById(id)
let parts = []
let line = -1

/** The smallest part that holds the cursor's line, a row before its section; the list of all settings comes last. */
const partAt = () => parts
  .filter(({ from, to }) => from <= line && line <= to)
  .sort((a, b) => a.id.startsWith('settings') - b.id.startsWith('settings') || a.to - a.from - (b.to - b.from) ||
    b.id.includes('-') - a.id.includes('-'))[0]

const mark = (follow) => {
  for (const one of page.querySelectorAll('.here')) one.classList.remove('here')
  const part = partAt()
  const shown = part && own(part.id)
  if (!shown) return
  const point = own(part.id + '-point')
  if (shown.tagName !== 'SECTION') shown.classList.add('here')
  point?.classList.add('here')
  if (!follow) return
  if (shown.tagName === 'SECTION') shown.scrollIntoView({ block: 'start' })
  else (point ? point.closest('svg') : shown).scrollIntoView({ block: 'nearest' })
}

addEventListener('message', ({ data }) => {
  if (data.body !== undefined) {
    const focused = document.activeElement?.id
    page.innerHTML = data.body
    parts = data.parts
    if (focused) own(focused)?.focus({ preventScroll: true })
    if (data.other) scrollTo(0, 0)
  }
  const moved = data.line !== line
  line = data.line
  mark(moved)
})

page.addEventListener('click', (event) => {
  const link = event.target.closest('a')
  if (!link) return
  event.preventDefault()
  event.stopPropagation()
  editor.postMessage({ go: link.getAttribute('href').slice(1).replace(/-point$/, '') })
})

editor.postMessage({ ready: true })
`
