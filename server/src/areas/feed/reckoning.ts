// The feed reckoning as Markdown, for the editor's command: the same page that `rollbook feed` prints.

import type { Setup } from '../../model/setup.ts'
import { pageMarkdown } from '../../report/page-markdown.ts'
import { reckoningPage } from './reckoning-text.ts'

/** The whole reckoning of a profile's feed. Never empty: says what is missing where there is nothing to reckon with. */
export const feedReckoningMarkdown = (setup: Setup): string => pageMarkdown(reckoningPage(setup))
