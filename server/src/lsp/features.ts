// Every feature of the server. What is listed here is answered, and told of to the client; nothing else is. A new one is a file beside this
// one with a `Feature` in it, and a line here.
import { actions } from './actions.ts'
import { beginning } from './beginning.ts'
import { completion } from './completion.ts'
import { extras } from './extras.ts'
import type { Feature } from './feature.ts'
import { folders } from './folders.ts'
import { formatting } from './formatting.ts'
import { hierarchy } from './hierarchy.ts'
import { hints } from './hints.ts'
import { hover } from './hover.ts'
import { lenses } from './lenses.ts'
import { folding, highlights, links, selections } from './looks.ts'
import { pages } from './pages.ts'
import { picture } from './picture.ts'
import { definition, references } from './places.ts'
import { pull } from './pull.ts'
import { rename } from './rename.ts'
import { review } from './review.ts'
import { settings } from './settings.ts'
import { shop } from './shop.ts'
import { symbols } from './symbols.ts'
import { sync } from './sync.ts'
import { tokens } from './tokens.ts'
import { workspaceSymbols } from './workspace-symbols.ts'

export const FEATURES: readonly Feature[] = [
  sync,
  pull,
  hover,
  completion,
  actions,
  symbols,
  workspaceSymbols,
  definition,
  references,
  hierarchy,
  rename,
  highlights,
  selections,
  folding,
  links,
  formatting,
  tokens,
  lenses,
  hints,
  folders,
  settings,
  shop,
  extras,
  beginning,
  picture,
  pages,
  review,
]
