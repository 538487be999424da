/** Statements to entries, one small reader per keyword. */
import { describe, expect, it } from 'vitest';
import type { Datum } from '../../../server/model/page';
import { pageOf } from './page';

const textOf = (datum: Datum | undefined) =>
  datum && `${datum.quantity.number.text} ${datum.quantity.unit?.symbol ?? ''}`.trim();
const charge = (facts: string) => pageOf(`charge it: ${facts}`).charges[0]!;

describe('the head', () => {
  it('is read once, from the first line that says something', () => {
    const page = pageOf('author: JL\ndate: 2026-03-03\nsigned: MK, 2026-03-04 17:20\nsigned: JL, 2026-03-05');
    expect([page.id?.text, page.title?.text, page.date?.text, page.author?.text]).toEqual([
      'X-1',
      'test',
      '2026-03-02',
      'MK',
    ]);
    expect(page.signed?.text).toContain('2026-03-04');
  });
});

describe('reactions', () => {
  const reaction = (text: string) => pageOf(`reaction ${text}`).reactions[0]!;
  it('terms, coefficients, states, arrow', () => {
    const { id, left, right, arrow, equation } = reaction('R7: 2 Na(s) + 1/2 B -> 0.5 C + ..., at 50 °C');
    expect([id, arrow, equation.text]).toEqual(['R7', '->', '2 Na(s) + 1/2 B -> 0.5 C + ...']);
    expect(left.map((t) => [t.name.text, `${t.coefficient.numerator}/${t.coefficient.denominator}`])).toEqual([
      ['Na', '2/1'],
      ['B', '1/2'],
    ]);
    expect(right.map((t) => [t.name.text, `${t.coefficient.numerator}/${t.coefficient.denominator}`, t.rest])).toEqual([
      ['C', '5/10', false],
      ['...', '1/1', true],
    ]);
  });
  it('a state belongs to a formula', () =>
    expect(reaction('R1: NaCl(aq) -> AgCl(s)').left[0]).toMatchObject({ name: { text: 'NaCl' }, state: 'aq' }));
  it('without an ID they count up', () =>
    expect(pageOf('reaction: A -> B\nreaction: B -> C').reactions.map((r) => r.id)).toEqual(['R1', 'R2']));
  it('a resolution says so', () => {
    expect(reaction('R1: A -> B, resolution').resolution).toBe(true);
    expect(reaction('R1: A -> B').resolution).toBe(false);
  });
  it('without an arrow it is none', () => expect(pageOf('reaction R1: A + B').reactions).toEqual([]));
});

describe('charges', () => {
  it('amounts in written order, roles, batch, lot', () => {
    const { amount, roles, batch, lot } = charge('15.0 mL, 12.15 g, base, excess, from TB-011/V-3, lot A-1');
    expect(amount.quantities.map(textOf)).toEqual(['15.0 mL', '12.15 g']);
    expect(roles.map((r) => r.role)).toEqual(['base', 'excess']);
    expect([batch, lot?.text]).toMatchObject([{ id: 'TB-011', label: 'V-3' }, 'A-1']);
  });
  it.each([
    ['excess', 'excess', []],
    ['balloon', 'balloon', []],
    ['weighed', 'weighed', []],
    ['5.0 g, excess', undefined, ['excess']],
    ['excess, base', 'excess', ['base']],
  ])('%s', (facts, word, roles) => {
    const read = charge(facts);
    expect([read.amount.word?.word, read.roles.map((r) => r.role)]).toEqual([word, roles]);
  });
  it('numbers in brackets are claims, never amounts', () => {
    const { amount, claims } = charge('15.0 mL (12.2 g, ca. 138 mmol, 1.0 equiv), limiting');
    expect(amount.quantities.map(textOf)).toEqual(['15.0 mL']);
    expect(claims.map((c) => [c.quantity.number.text, c.quantity.about, c.group])).toEqual([
      ['12.2', false, 0],
      ['138', true, 0],
      ['1.0', false, 0],
    ]);
  });
  it('struck text is not read', () =>
    expect(charge('~~20.0 mL~~ 21.0 mL').amount.quantities.map(textOf)).toEqual(['21.0 mL']));
  it('an amount behind other words', () =>
    expect(charge('then 5.0 mL').amount.quantities.map(textOf)).toEqual(['5.0 mL']));
  it('lengths, times and temperatures are no amounts', () =>
    expect(charge('for 5 min, at 50 °C, 3 mm beads').amount.quantities).toEqual([]));
  it('temperature and pressure of a gas', () => {
    const { temperature, pressure } = charge('1020 L, at 25 °C, at 745 Torr');
    expect([temperature, pressure].map(textOf)).toEqual(['25 °C', '745 Torr']);
  });
  it('a strength in the line', () => {
    const { strength } = charge('4.00 mL of 2.5 M in hexanes').amount;
    expect([textOf(strength?.datum), strength?.solvent?.text]).toEqual(['2.5 M', 'hexanes']);
  });
  it('legs are charges of one name', () =>
    expect(
      pageOf('charge it: 1.0 g, from TB-1; 2.0 g, from TB-2').charges.map((c) => [
        c.name.text,
        textOf(c.amount.quantities[0]),
        c.batch?.id,
      ]),
    ).toEqual([
      ['it', '1.0 g', 'TB-1'],
      ['it', '2.0 g', 'TB-2'],
    ]));
  it('`from the still` is a remark', () => expect(charge('15 mL, from the still').batch).toBeUndefined());
  it('without facts it is a charge all the same', () => expect(charge('').amount).toMatchObject({ quantities: [] }));
});

describe('weighings', () => {
  const facts = (text: string) =>
    pageOf(`vessel F-12: flask\nbalance B-2: readability 1 mg\nbalance B-3: readability 1 g\nproduct it: ${text}`)
      .products[0]!.amount.weighing;
  it('readings in order, with their times', () => {
    const { readings } = facts('tare 41.207 g, gross 54.991 g at 10:00, gross 54.881 g, at 11:00:30');
    expect(readings.map((r) => [r.what, textOf(r.datum), r.seconds])).toEqual([
      ['tare', '41.207 g', undefined],
      ['gross', '54.991 g', 36_000],
      ['gross', '54.881 g', 39_630],
    ]);
  });
  it.each([
    'gross 54.881 g, in F-12, on B-2',
    'gross 54.881 g in F-12, on B-2',
    'gross 54.881 g in F-12 on B-2',
    'gross 54.881 g in f-12 at 10:00, on b-2',
  ])('vessel and balance: %s', (text) => {
    const { vessel, balance } = facts(text);
    expect([vessel?.target?.name, balance?.target?.name]).toEqual(['F-12', 'B-2']);
  });
  it('a vessel that nobody declared is kept with a reading, not without', () => {
    expect(facts('gross 54.881 g, in G-9').vessel).toMatchObject({ text: 'G-9' });
    expect(facts('5.0 g, in G-9').vessel).toBeUndefined();
    expect(facts('gross 54.881 g in total').vessel).toBeUndefined();
  });
  it('weighed empty it is a vessel, else a substance', () => {
    const { weighs } = pageOf('vessel F-12: flask\nweigh F-12: tare 41.207 g\nweigh NaCl: net 1.0 g');
    expect(weighs.map((w) => [w.name.text, w.vessel?.name])).toEqual([
      ['F-12', 'F-12'],
      ['NaCl', undefined],
    ]);
  });
});

describe('products', () => {
  const product = (text: string) => pageOf(`reaction R1: A -> B + ...\nproduct B: ${text}`).products[0]!;
  it.each([
    ['5.0 g, crude', 'crude', undefined, undefined],
    ['5.0 g, recrystallized, first crop', 'recrystallised', 'first crop', undefined],
    ['5.0 g, crude, distilled', 'distilled', undefined, undefined],
    ['5.0 g, fractions 14–23', undefined, 'fractions 14–23', undefined],
    ['5.0 g, label V-3', undefined, undefined, 'V-3'],
  ])('%s', (text, stage, part, label) => {
    const read = product(text);
    expect([read.stage?.text, read.part?.text, read.label?.text]).toEqual([stage, part, label]);
  });
  it('purity and what it contains', () => {
    const read = product('5.0 g, purity 97 % by GC, contains ethyl acetate 8 wt%');
    expect([textOf(read.purity), read.contains.map((c) => [c.name.text, textOf(c.fraction)])]).toEqual([
      '97 %',
      [['ethyl acetate', '8 % w/w']],
    ]);
  });
  it('without a subject it is the first product of the last reaction', () => {
    expect(pageOf('reaction R1: A -> B\nreaction R2: B -> C + D\nproduct: 5.0 g').products[0]!.name.text).toBe('C');
    expect(pageOf('product: 5.0 g').products).toEqual([]);
  });
});

describe('plans, samples, measurements, accepts', () => {
  it.each([
    ['plan it: 5.00 g at 80 %', '5.00 g', '80 %'],
    ['plan it: 5.00 g, at 80 %', '5.00 g', '80 %'],
    ['plan it: 1.5 equiv', '1.5 equiv', undefined],
    ['plan it: 5.00 g, at 50 °C', '5.00 g', undefined],
  ])('%s', (text, quantity, share) => {
    const plan = pageOf(text).plans[0]!;
    expect([textOf(plan.quantity), textOf(plan.yield)]).toEqual([quantity, share]);
  });
  it('a sample of something', () => {
    const [sample] = pageOf('sample S-1: 20 mg of NaCl, for NMR').samples;
    expect([sample!.id, textOf(sample!.quantity), sample!.name?.text]).toEqual(['S-1', '20 mg', 'NaCl']);
  });
  it('an exact mass with its adduct', () => {
    const [measure] = pageOf('measure it: HRMS [M+Na]+ found 153.0886 (calcd 153.0886)').measurements;
    expect([measure!.hrms?.adduct.text, textOf(measure!.hrms?.found), measure!.claims.map((c) => c.label)]).toEqual([
      '[M+Na]+',
      '153.0886',
      ['calcd'],
    ]);
  });
  it('a combustion with its calculated values', () => {
    const [measure] = pageOf('measure it: combustion C 60.02, H 4.51 (calcd C 60.00, H 4.48)').measurements;
    expect(measure!.combustion?.map((c) => [c.element, textOf(c.percent)])).toEqual([
      ['C', '60.02'],
      ['H', '4.51'],
    ]);
    expect(measure!.elementClaims.map((c) => c.element)).toEqual(['C', 'H']);
  });
  it('accepts with their reasons', () => {
    const { accepts } = pageOf('accept net-mismatch: seen\naccept tare-missing on the page: lost\naccept tare-drift:');
    expect(accepts.map((a) => [a.rule.text, a.wholePage, a.reason?.text])).toEqual([
      ['net-mismatch', false, 'seen'],
      ['tare-missing', true, 'lost'],
      ['tare-drift', false, undefined],
    ]);
  });
});

describe('names for references', () => {
  it('a declaration and every use, under the name it is declared with', () => {
    const { mentions } = pageOf(
      'substance it: C2H6O, also that\ncharge that: 1 g\nproduct it: 1 g\ntest Lucas: of it, cloudy => alcohol',
    );
    expect(mentions.filter((m) => m.what === 'substance').map((m) => [m.name, m.role])).toEqual([
      ['it', 'declared'],
      ['it', 'used'],
      ['it', 'used'],
      ['it', 'used'],
    ]);
  });
  it('pages and vessels', () => {
    const { mentions } = pageOf('vessel F-12: flask, tare 41.2 g from TB-9\ncharge it: gross 50 g, in F-12, from TB-8');
    const of = (what: string) => mentions.filter((m) => m.what === what).map((m) => [m.name, m.role]);
    expect(of('page')).toEqual([
      ['TB-9', 'used'],
      ['X-1', 'declared'],
      ['TB-8', 'used'],
    ]);
    expect(of('vessel')).toEqual([
      ['F-12', 'declared'],
      ['F-12', 'used'],
    ]);
  });
});

describe('the clock', () => {
  it('in front of a statement stands with its entry', () =>
    expect(pageOf('09:40 charge it: 1 g').charges[0]!.entry.clock).toMatchObject({ text: '09:40', seconds: 34_800 }));
});
