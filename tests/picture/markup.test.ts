// Markup as text: what is put in comes out as text, whatever it is.
import { expect, test } from 'vitest'
import { element, markupOf, short } from '../../server/src/picture/markup.ts'

test('marks are written out in texts and in attributes, and what no document may hold is replaced', () => {
  expect(markupOf(element('p', { title: `"<'&>` }, '<b> & "c"'))).toBe(
    '<p title="&#34;&#60;&#39;&#38;&#62;">&#60;b&#62; &#38; &#34;c&#34;</p>',
  )
  // XML 1.0, 2.2: no other control characters than tab and the ends of lines, no half of a pair, not U+FFFE.
  expect(markupOf('a\u0000b\u001b[1mc\ud800d\ufffee\tf 😀 µ')).toBe('a\ufffdb\ufffd[1mc\ufffdd\ufffde\tf 😀 µ')
})

test('attributes without a value are left out, numbers are short, and empty drawing elements close themselves', () => {
  expect(markupOf(element('path', { d: undefined, x: 1.23456, y: -0.001 }))).toBe('<path x="1.23" y="0"/>')
  expect(markupOf(element('div'))).toBe('<div></div>')
  expect(short(1e-9)).toBe('0')
})
