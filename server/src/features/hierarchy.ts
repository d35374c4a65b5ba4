// Profiles that build on one another: what a profile is based on, and what is based on it. Facts alone tell, so that closed documents are in it too.
import type { Facts } from '../model/facts.ts'
import type { Shelf } from '../model/shelf.ts'
import type { FeatureContext } from './context.ts'
import { subjectAt } from './rename.ts'

/** The profiles that the name at an offset stands for: the document's own, or its base. */
export function profilesAt(context: FeatureContext, offset: number): readonly Facts[] {
  const subject = subjectAt(context, offset)
  return subject?.of === 'media' ? context.shelf.withId('media', subject.name) : []
}

/** What a profile names as its base; several where an id is not unique. */
export const basesOf = (shelf: Shelf, { values: { base } }: Facts): readonly Facts[] =>
  base ? shelf.withId('media', base.text) : []

/** The profiles that name this one as their base, in the order of their files. */
export const heirsOf = (shelf: Shelf, { values: { profile } }: Facts): readonly Facts[] =>
  profile ? [...shelf.all('media')].filter(({ values }) => values.base?.text === profile.text) : []
