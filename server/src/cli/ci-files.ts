// The workflows that README.md shows, as files: `rollbook new shop --ci`. tests/cli/readme.test.ts holds the two to be the same.
import { VERSION } from '../version.ts'

export const CI = ['github', 'gitlab'] as const

export type Ci = (typeof CI)[number]

/** Where the workflow finds the package. */
export const PACKAGE = `tools/rollbook-${VERSION}.tgz`

export const CI_FILE: Readonly<Record<Ci, string>> = { github: '.github/workflows/profiles.yml', gitlab: '.gitlab-ci.yml' }

export const CI_TEXT: Readonly<Record<Ci, string>> = {
  github: `on:
  pull_request:
  schedule: [{ cron: '0 5 * * 1-5' }]
permissions: { contents: read }
jobs:
  change:
    if: github.event_name == 'pull_request'
    runs-on: ubuntu-latest
    env: { BASE: 'origin/\${{ github.base_ref }}' }
    steps:
      - uses: actions/checkout@v4
        with: { fetch-depth: 0 }
      - uses: actions/setup-node@v4
        with: { node-version: 20 }
      - run: npm install --global ./${PACKAGE}
      - run: rollbook check --format github --changed-since "$BASE" --new-since "$BASE"
  due:
    if: github.event_name == 'schedule'
    runs-on: ubuntu-latest
    steps:
      - uses: actions/checkout@v4
      - uses: actions/setup-node@v4
        with: { node-version: 20 }
      - run: npm install --global ./${PACKAGE}
      - run: rollbook due
`,
  gitlab: `default:
  image: node:20
  before_script: [npm install --global ./${PACKAGE}]
change:
  rules: [{ if: $CI_PIPELINE_SOURCE == "merge_request_event" }]
  variables: { GIT_DEPTH: 0, BASE: $CI_MERGE_REQUEST_DIFF_BASE_SHA }
  script:
    - rollbook check --format gitlab --changed-since "$BASE" --new-since "$BASE" > profiles.json
  artifacts: { when: always, reports: { codequality: profiles.json } }
due:
  rules: [{ if: $CI_PIPELINE_SOURCE == "schedule" }]
  script:
    - rollbook due
`,
}
