/** The documentation page of a rule, as Markdown. The packaged pages and `tarebook explain` are both made from it. */
import type { Example, Family, Rule } from './rule';

const FAMILIES: Readonly<Record<Family, string>> = {
  reading: 'Reading',
  units: 'Units',
  weighing: 'Weighing',
  substance: 'Substances',
  reaction: 'Reactions',
  claims: 'Claims',
  yield: 'Yield',
  evidence: 'Evidence',
  ledger: 'Ledger',
  page: 'The page',
};

const FIXES: Readonly<Record<Rule['fixable'], string>> = {
  always: 'always',
  sometimes: 'where one can be worked out',
  never: 'none',
};

/** Ends with a line break. */
export function rulePage(rule: Rule): string {
  const another = rule.severity === 'warning' ? 'error' : 'warning';
  const parts = [
    `# ${rule.code}`,
    `**${rule.title}.**`,
    `Family: ${FAMILIES[rule.family]} · Severity: ${rule.severity} · Quick fix: ${FIXES[rule.fixable]}`,
    '## Why',
    rule.why.trim(),
    '## What to do',
    rule.help.trim(),
    ...rule.examples.flatMap(exampleParts),
    '## Sources',
    (rule.sources.length > 0 ? rule.sources : ['common practice, no source']).map((s) => `- ${s}`).join('\n'),
    '## Changing it',
    [
      `In \`tarebook.json\`: \`{"rules": {"severity": {"${rule.code}": "${another}"}}}\`, or \`"off"\`.`,
      `Under the statement, with the reason: \`accept ${rule.code}: …\`.`,
    ].join('\n'),
  ];
  return `${parts.join('\n\n')}\n`;
}

function exampleParts(example: Example): readonly string[] {
  const files = Object.entries(example.files ?? {}).flatMap(([name, text]) => [`In \`${name}\`:`, fence(text)]);
  const wrong = example.wrong === undefined ? [] : ['Wrong:', fence(example.wrong)];
  const right = example.right ?? example.fixed;
  const good = right === undefined ? [] : [example.wrong === undefined ? 'Right, no finding:' : 'Right:', fence(right)];
  return [`## Example: ${example.name}`, ...files, ...wrong, ...good];
}

/** A fence longer than any that the page itself holds. */
function fence(text: string): string {
  const longest = Math.max(2, ...[...text.matchAll(/`{3,}/g)].map((match) => match[0].length));
  const marks = '`'.repeat(longest + 1);
  return `${marks}tare\n${text.replace(/^\n+|\s+$/g, '')}\n${marks}`;
}
