// Writes schemas/reference/rules.md, the reference of all rules, from the rules themselves.

/** Imported late: the index of rules may have been written a moment before. */
export async function generateRulesPage(): Promise<{ path: string; text: string }[]> {
  const { RULES } = await import('../src/rules/generated/index.ts')
  const { rulePage } = await import('../src/features/explain.ts')
  const rows = RULES.map(
    (rule) => `| [${rule.code}](#${rule.code}) | ${rule.severity} | ${rule.kinds.join(', ')} | ${rule.summary} |`,
  )
  const pages = RULES.map((rule) =>
    rulePage(rule)
      .replace(/^# /, '## ')
      .replace(/^## Example/gm, '### Example'),
  )
  const text = `# Rules

Generated from the rules by \`npm run gen\`. The shop sets a rule's severity in \`rollbook.yaml\`, under \`rules:\`.

| rule | severity | documents | |
| --- | --- | --- | --- |
${rows.join('\n')}

${pages.join('\n\n')}
`
  return [{ path: 'schemas/reference/rules.md', text }]
}
