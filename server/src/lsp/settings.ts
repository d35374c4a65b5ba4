// What a person has set: taken as the client sends it, or asked for; clients that can do neither keep the defaults.
import { type Feature, notification } from './feature.ts'
import type { Session } from './session.ts'

export interface Settings {
  readonly hints: boolean
}

/** Anything but a plain `false` in the right place means yes. */
export const settingsOf = (sent: unknown): Settings => ({
  hints: (sent as { hints?: { checks?: unknown } } | null | undefined)?.hints?.checks !== false,
})

export const settings: Feature = {
  capability: {},
  notifications: {
    'workspace/didChangeConfiguration': notification<{ settings?: { rollbook?: unknown } | null }>({}, (sent, session) =>
      readSettings(session, sent.settings?.rollbook),
    ),
  },
}

export async function readSettings(session: Session, sent?: unknown): Promise<void> {
  const { able, client } = session
  try {
    const found = able.configuration
      ? await client.sendRequest<unknown[]>('workspace/configuration', { items: [{ section: 'rollbook' }] })
      : [sent]
    const before = session.settings
    session.settings = settingsOf(found?.[0])
    if (session.settings.hints === before.hints) return
    if (able.refreshedHints) await client.sendRequest('workspace/inlayHint/refresh')
  } catch (error) {
    session.host.log('info', `settings: ${(error as Error).message}`)
  }
}
