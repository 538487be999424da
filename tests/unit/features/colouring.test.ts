/** The colouring grammar, run by the engine that the editor runs it with. */
import { readdirSync, readFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import oniguruma from 'vscode-oniguruma';
import textmate, { type IGrammar, type StateStack } from 'vscode-textmate';
import { parse } from '../../../grammar/parse';
import type { Fact } from '../../../grammar/tree';
import { KEYWORDS, UNITS } from '../../../grammar/vocabulary';
import { colouring } from '../../../server/features/colouring';

let grammar: IGrammar;

beforeAll(async () => {
  const wasm = createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm');
  await oniguruma.loadWASM((await readFile(wasm)).buffer as ArrayBuffer);
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(JSON.stringify(colouring()), 'tarebook.tmLanguage.json'),
  });
  const loaded = await registry.loadGrammar('source.tarebook');
  if (!loaded) throw new Error('the grammar does not load');
  grammar = loaded;
});

interface Piece {
  readonly text: string;
  readonly scopes: string;
}

/** Each coloured piece of a text with its innermost scopes, the root and the statement's frame left out. */
function pieces(text: string): readonly Piece[] {
  let state: StateStack = textmate.INITIAL;
  return text.split('\n').flatMap((line) => {
    const { tokens, ruleStack } = grammar.tokenizeLine(line, state);
    state = ruleStack;
    return tokens
      .map(({ startIndex, endIndex, scopes }) => ({
        text: line.slice(startIndex, endIndex).trim(),
        scopes: scopes
          .filter((s) => s !== 'source.tarebook' && !s.startsWith('meta.statement'))
          .map((s) => s.replace(/\.tarebook$/, ''))
          .join(' '),
      }))
      .filter((piece) => piece.text !== '' && piece.scopes !== '');
  });
}

const scopesOf = (text: string, part: string): readonly string[] =>
  pieces(text)
    .filter((p) => p.text === part)
    .map((p) => p.scopes);

describe('a statement', () => {
  test('shows keyword, subject, measured and claimed numbers apart', () => {
    const line = 'charge isopentyl alcohol: 15.0 mL (12.2 g, 138 mmol, 1.0 equiv), limiting';
    expect(scopesOf(line, 'charge')).toEqual(['keyword.control']);
    expect(scopesOf(line, 'isopentyl alcohol')).toEqual(['entity.name.type.substance']);
    expect(scopesOf(line, '15.0')).toEqual(['constant.numeric']);
    expect(scopesOf(line, 'mL')).toEqual(['keyword.other.unit']);
    for (const claimed of ['12.2', '138', '1.0'])
      expect(scopesOf(line, claimed)).toEqual(['meta.claim constant.numeric.claim']);
    expect(scopesOf(line, 'mmol')).toEqual(['meta.claim keyword.other.unit.claim']);
    expect(scopesOf(line, 'limiting')).toEqual(['storage.modifier']);
  });

  test('goes on over lines that begin with white space, and no further', () => {
    const text =
      'product ester:\n  gross 54.881 g (net 13.674 g, 76.2 %), in F-12, on B-2\n  bp 139–141 °C\nIt weighed 12 g.';
    expect(scopesOf(text, 'gross')).toEqual(['support.function']);
    expect(scopesOf(text, 'F-12')).toEqual(['variable.other']);
    expect(scopesOf(text, 'B-2')).toEqual(['variable.other']);
    expect(scopesOf(text, '139–141')).toEqual(['constant.numeric']);
    expect(scopesOf(text, '°C')).toEqual(['keyword.other.unit']);
    expect(scopesOf(text, '76.2')).toEqual(['meta.claim constant.numeric.claim']);
    expect(pieces(text).at(-1)?.text).toBe('°C');
  });

  test('an open bracket colours nothing below its statement', () => {
    expect(pieces('charge water: 15.0 mL (12.2 g,\nThen 5 mL of water (warm).').at(-1)?.text).toBe(',');
  });

  test('a claim that stands alone, one after a strength, one with a word of its own', () => {
    expect(scopesOf('titrate base: run 0.5 g, (mean 0.1013 mol/L)', '0.1013')).toEqual([
      'meta.claim constant.numeric.claim',
    ]);
    expect(scopesOf('charge n-BuLi: 4.00 mL of 2.5 M in hexanes (10.0 mmol)', '10.0')).toEqual([
      'meta.claim constant.numeric.claim',
    ]);
    expect(scopesOf('measure ester: bp in vacuo at 12 mmHg (lit. 35 °C)', '35')).toEqual([
      'meta.claim constant.numeric.claim',
    ]);
  });

  test('a claim after a balance, a vessel, a batch, a time', () => {
    for (const fact of ['on B-2', 'in beaker 4', 'from TB-031', 'at 14:20', 'at 21 °C, at 101.2 kPa'])
      expect(scopesOf(`charge salt: net 6.912 g, ${fact} (49.8 mmol, 1.00 equiv), limiting`, '49.8'), fact).toEqual([
        'meta.claim constant.numeric.claim',
      ]);
    expect(scopesOf('charge salt: net 6.912 g, on B-2 (49.8 mmol)', 'B-2')).toEqual(['variable.other']);
    expect(scopesOf('weigh salt: gross 6.9 g, at 20 °C (49.8 mmol)', '20')).toEqual(['constant.numeric']);
  });

  test('after a clock', () => {
    const line = '09:55 [JL] charge water: 5 mL';
    expect(scopesOf(line, '09:55')).toEqual(['constant.other.clock']);
    expect(scopesOf(line, '[JL]')).toEqual(['constant.other.initials']);
    expect(scopesOf(line, 'charge')).toEqual(['keyword.control']);
  });

  test('an equation: names, coefficients, arrow', () => {
    const line = 'reaction R1: 2 isopentyl alcohol + acetic acid -> isopentyl acetate + water, at 80 °C';
    expect(scopesOf(line, 'R1')).toEqual(['entity.name.function']);
    expect(scopesOf(line, '2')).toEqual(['constant.numeric']);
    expect(scopesOf(line, '->')).toEqual(['keyword.operator.arrow']);
    for (const name of ['isopentyl alcohol', 'acetic acid', 'isopentyl acetate', 'water'])
      expect(scopesOf(line, name)).toEqual(['entity.name.type.substance']);
    expect(scopesOf(line, '80')).toEqual(['constant.numeric']);
  });

  test('formula, structure and registry number', () => {
    const line = 'substance acetic acid: C2H4O2, density 1.049 g/mL at 20 °C, SMILES CC(=O)O, CAS 64-19-7';
    expect(scopesOf(line, 'C2H4O2')).toEqual(['string.other.formula']);
    expect(scopesOf(line, 'CC(=O)O')).toEqual(['string.unquoted.smiles']);
    expect(scopesOf(line, '64-19-7')).toEqual(['constant.other']);
    expect(scopesOf(line, '1.049')).toEqual(['constant.numeric']);
    expect(scopesOf(line, 'g/mL')).toEqual(['keyword.other.unit']);
  });

  test('a spectrum is one stretch, its numbers are not', () => {
    const line = 'measure ester: 1H NMR (CDCl3) δ 4.09 (t, 2H), 2.04 (s, 3H); mp 20 °C';
    expect(scopesOf(line, '4.09')).toEqual([]);
    expect(scopesOf(line, '20')).toEqual(['constant.numeric']);
  });

  test('digits in names are no numbers', () => {
    for (const line of [
      'charge 2-propanol: excess',
      'charge acid: from bottle, of 1,4-dioxane, 4-(dimethylamino)pyridine as before',
      'charge acid: C5H12O as a film',
    ])
      expect(
        pieces(line).filter((p) => p.scopes.includes('numeric')),
        line,
      ).toEqual([]);
  });

  test('struck numbers are struck', () => {
    expect(scopesOf('charge water: ~~20.0 mL~~ 21.0 mL', '~~20.0 mL~~')).toEqual(['markup.strikethrough']);
    expect(scopesOf('charge water: ~~20.0 mL~~ 21.0 mL', '21.0')).toEqual(['constant.numeric']);
  });

  test.each(Object.keys(KEYWORDS))('the keyword %s', (keyword) => {
    const subject = KEYWORDS[keyword as keyof typeof KEYWORDS].subject === 'none' ? '' : ' X';
    expect(scopesOf(`${keyword}${subject}: text`, keyword)).toEqual(['keyword.control']);
  });

  test.each(Object.keys(UNITS).filter((symbol) => !('unread' in UNITS[symbol as keyof typeof UNITS])))(
    'the unit %s',
    (symbol) => {
      expect(scopesOf(`charge water: 12 ${symbol}, dried`, symbol)).toEqual(['keyword.other.unit']);
    },
  );
});

describe('prose stays plain', () => {
  test.each([
    'The charge was: 20 mL.',
    'charge of the flask was: 20 mL',
    'Charge acetic acid: 20 mL',
    'charge acetic acid 20 mL',
    'product looks: fine',
    'see TB-009 (12.2 g, 5 mmol)',
    '25:10 no clock',
  ])('%s', (line) => {
    expect(pieces(line)).toEqual([]);
  });

  test('the text after a clock, too', () => {
    expect(pieces('09:55 Reflux started, 20 mL of water (12 g) on.').map((p) => p.text)).toEqual(['09:55']);
  });
});

describe('headings and fences', () => {
  test('a heading', () => {
    expect(scopesOf('## Work-up', '## Work-up')).toEqual(['markup.heading']);
    expect(pieces('#hashtag')).toEqual([]);
  });

  test('a fence holds no statements', () => {
    const text = '```\ncharge water: 5 mL\n```\ncharge water: 6 mL';
    expect(scopesOf(text, 'charge water: 5 mL')).toEqual(['markup.fenced_code.block']);
    expect(scopesOf(text, '6')).toEqual(['constant.numeric']);
  });
});

describe('the samples', () => {
  const folder = join(import.meta.dirname, '../../../samples');
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.tare'));

  test('are there', () => {
    expect(files.length).toBeGreaterThan(5);
  });

  test.each(files)('%s has the colours that its reading has', (file) => {
    const text = readFileSync(join(folder, file), 'utf8');
    const scopes = scopesByOffset(text);
    const wrong = [...expected(text)].filter(({ at, scope }) => !scope.test(scopes[at] ?? ''));
    expect(wrong.map(({ at, scope }) => `${text.slice(at).split('\n')[0]}: ${scopes[at]} instead of ${scope}`)).toEqual(
      [],
    );
  });
});

/** The scopes of every character. */
function scopesByOffset(text: string): readonly string[] {
  let state: StateStack = textmate.INITIAL;
  return text.split('\n').flatMap((line) => {
    const { tokens, ruleStack } = grammar.tokenizeLine(line, state);
    state = ruleStack;
    const scopes = tokens.flatMap((t) => Array<string>(t.endIndex - t.startIndex).fill(t.scopes.slice(1).join(' ')));
    return [...scopes.slice(0, line.length), ''];
  });
}

interface Expected {
  readonly at: number;
  readonly scope: RegExp;
}

/** What the parser takes for keywords, known words, numbers, units and claims, and what for prose. */
function* expected(text: string): Generator<Expected> {
  for (const { page, at } of parse(text).pages) {
    for (const { block, at: start } of page.blocks) {
      const base = at + start;
      const { statement } = block;
      if (statement) yield { at: base + statement.keywordSpan.start, scope: /keyword\.control/ };
      else if (block.kind === 'prose' && block.body) yield { at: base + block.body.span.start, scope: /^$/ };
      if (statement?.body.kind !== 'facts') continue;
      for (const leg of statement.body.legs) for (const fact of leg.facts) yield* inFact(fact, base, false);
    }
  }
}

function* inFact(fact: Fact, base: number, claim: boolean): Generator<Expected> {
  if (fact.spectrum) return;
  if (fact.keySpan) yield { at: base + fact.keySpan.start, scope: /support.function|modifier|constant\.language/ };
  for (const part of fact.parts) {
    if (part.kind !== 'quantity') continue;
    yield { at: base + part.number.span.start, scope: claim ? /numeric\.claim/ : /constant\.numeric(?!\.claim)/ };
    if (part.unit) yield { at: base + part.unit.span.start, scope: claim ? /unit\.claim/ : /other\.unit(?!\.claim)/ };
  }
  for (const group of fact.claims) for (const inner of group.facts) yield* inFact(inner, base, true);
}

test('a long line is coloured in no time', () => {
  const line = `charge water: ${'5 mL (2 g, 3 mmol), of some-thing (x) '.repeat(2000)}`;
  const { stoppedEarly } = grammar.tokenizeLine(line, textmate.INITIAL, 2000);
  expect(stoppedEarly).toBe(false);
});
