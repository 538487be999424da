// Documents of about 50 bytes a line, one generator per language. Each gives { text, sites }: a site is a place (0-based
// line and character) where inserting one character makes a finding, and taking it out mends it; `hover` is a column.
import { notebook, rng } from './notebook.mjs';

const WORDS =
  'layer funnel needles filter colour morning liquor crop solid flask water white slowly clean drained'.split(' ');

function prose(random, length) {
  const word = () => WORDS[Math.floor(random() * WORDS.length)];
  let text = word();
  while (text.length < length) text += ` ${word()}`;
  return text;
}

function css(lines, seed) {
  const random = rng(seed);
  const out = [];
  const sites = [];
  for (let i = 0; out.length < lines; i++) {
    out.push(
      `/* ${prose(random, 60)} */`,
      `.panel-${i} > .entry-title:hover, .panel-${i} .entry-note[data-k="${i}"] {`,
      '  background-color: lightsteelblue;',
      `  margin: ${Math.floor(random() * 40)}px ${Math.floor(random() * 40)}px calc(100% - ${i % 90}px) auto;`,
      `  font: italic small-caps bold ${10 + (i % 9)}px/1.4 "Work Sans", sans-serif;`,
      `  border: ${1 + (i % 4)}px solid rgba(${i % 255}, 120, 80, 0.${1 + (i % 8)});`,
      `  transition: background-color 0.${1 + (i % 8)}s ease-in-out, opacity 1s;`,
      '}',
      '',
    );
    sites.push({ line: out.length - 7, character: '  background-color: lightsteelblue'.length, insert: ':', hover: 6 });
  }
  return { text: `${out.join('\n')}\n`, sites };
}

function json(lines, seed) {
  const random = rng(seed);
  const count = Math.max(1, Math.floor((lines - 2) / 9));
  const out = ['['];
  const sites = [];
  for (let i = 0; i < count; i++) {
    const title = `    "title": "${prose(random, 40)}`;
    sites.push({ line: out.length + 2, character: title.length, insert: '"', hover: 6 });
    out.push(
      '  {',
      `    "id": "TB-${i}",`,
      `${title}",`,
      `    "note": "${prose(random, 60)}",`,
      `    "amount": ${Math.floor(random() * 1e5) / 1e3},`,
      `    "unit": "${['g', 'mL', 'mmol'][i % 3]}",`,
      `    "tags": ["${prose(random, 12)}", "${prose(random, 12)}", "${prose(random, 8)}"],`,
      `    "steps": [{ "at": "09:${10 + (i % 50)}", "text": "${prose(random, 40)}" }]`,
      i === count - 1 ? '  }' : '  },',
    );
  }
  out.push(']');
  return { text: `${out.join('\n')}\n`, sites };
}

/** The sites are amounts in claims of charges that are right as they stand: one more digit makes the claim wrong. */
function tare(lines, seed) {
  const { text, planted } = notebook({ lines, seed, errors: 0.02 });
  const wrong = new Set(planted.map((error) => error.line - 1));
  const sites = text.split('\n').flatMap((content, line) => {
    const claim = /^charge .*\((?:.*?, )?(\d+)(\.\d+)? mmol/.exec(content);
    if (!claim || wrong.has(line)) return [];
    const character = content.indexOf(' mmol', claim.index) - (claim[2]?.length ?? 0);
    return [{ line, character, insert: '7', hover: 9 }];
  });
  return { text, sites };
}

/** The same notebook for the floor server, which finds section signs and nothing else. */
function floor(lines, seed) {
  const document = tare(lines, seed);
  return { ...document, sites: document.sites.map((site) => ({ ...site, insert: '§' })) };
}

export const DOCUMENTS = { css, json, tare, floor };
