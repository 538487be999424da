/** What a name stands for. Handbook entries are looked up by what anybody knows of them; densities are not compared. */
import { describe, expect, it } from 'vitest';
import type { Solution, Substance } from '../../../server/model/page';
import { pageOf, resolved, whereOf } from './page';

const densityOf = (ref: { readonly target?: unknown }): string | undefined =>
  (ref.target as Substance | undefined)?.density?.quantity.number.text;

describe('nearest first', () => {
  const names = {
    page: 'substance toluene: C7H8, density 1.001 g/mL\n',
    head: 'substance toluene: C7H8, density 1.002 g/mL\n\n',
    register: { 'stock.tare': 'substance toluene: C7H8, density 1.003 g/mL\n' },
  };
  it('page, head, register, handbook', () => {
    const charge = 'charge toluene: 10 mL';
    const found = [
      resolved(names.page + charge, names.register, names.head),
      resolved(charge, names.register, names.head),
      resolved(charge, names.register),
      resolved(charge),
    ];
    expect(found.map((ref) => whereOf(ref.target))).toEqual(['page', 'file', 'register', 'handbook']);
    expect(found.slice(0, 3).map(densityOf)).toEqual(['1.001', '1.002', '1.003']);
    expect(densityOf(found[3]!)).toMatch(/^0\.8/);
  });

  it('a bare formula stands for itself, an unknown word for nothing', () => {
    expect(whereOf(resolved('charge C11H17NO7S: 1 g').target)).toBe('formula');
    expect(resolved('charge moon dust: 1 g').target).toBeUndefined();
  });

  it('of two registers the one with the first address counts', () => {
    const others = { 'b.tare': 'substance it: C2H6\n', 'a.tare': 'substance it: C3H8\n' };
    expect((resolved('charge it: 1 g', others).target as Substance).formula?.text).toBe('C3H8');
  });

  it('a page is no register for another page', () =>
    expect(
      resolved('charge it: 1 g', { 'other.tare': 'experiment X-2: other\nsubstance it: C2H6\n' }).target,
    ).toBeUndefined());
});

describe('how names compare', () => {
  it.each([
    ['Isopentyl Alcohol', 'isopentyl alcohol', true],
    ['isopentyl   alcohol', 'isopentyl alcohol', true],
    ['N,N-dimethylformamide X', 'N,N‑dimethylformamide X', true],
    ['2‐thing', '2−thing', true],
    ['(S)-thing', '(s)-thing', false],
    ['D-thing', 'd-thing', false],
    ['N-thing', 'n-thing', false],
    ['(+)-thing', '(−)-thing', false],
    ['(+)-thing', '(+)–thing', true],
    ['thing 2a', 'thing 2A', true],
  ])('%s and %s: %s', (declared, used, same) =>
    expect(resolved(`substance ${declared}: C6H12O5\ncharge ${used}: 1 g`).target !== undefined).toBe(same),
  );

  it('another name is as good, and two names of one thing are no two things', () => {
    const page = 'substance it: C6H12O5, also that, also the other\ncharge THE other: 1 g';
    expect(resolved(page).target?.name).toBe('it');
  });

  it('a name that two things have names none', () =>
    expect(resolved('substance it: C6H12O5\nsubstance that: C6H12, also it\ncharge it: 1 g')).toMatchObject({
      several: ['it', 'that'],
    }));
});

describe('formulas', () => {
  it('of one declared substance name it, however they are written', () => {
    for (const formula of ['C7H14O2', 'CH3COOC5H11', 'C₇H₁₄O₂'])
      expect([formula, resolved(`substance ester: C7H14O2\ncharge ${formula}: 1 g`).target?.name]).toEqual([
        formula,
        'ester',
      ]);
  });
  it('shared by several name none', () =>
    expect(resolved('substance a: C7H14O2\nsubstance b: C7H14O2\ncharge C7H14O2: 1 g')).toMatchObject({
      several: ['a', 'b'],
    }));
  it('of a register name its substance', () =>
    expect(whereOf(resolved('charge C11H17NO7S: 1 g', { 'stock.tare': 'substance it: C11H17NO7S\n' }).target)).toBe(
      'register',
    ));
  it('shared by two of a register stand for themselves', () =>
    expect(
      whereOf(
        resolved('charge C11H17NO7S: 1 g', { 'stock.tare': 'substance it: C11H17NO7S\nsubstance that: C11H17NO7S\n' })
          .target,
      ),
    ).toBe('formula'));
  it('compare exactly: Co is not CO', () => {
    expect((resolved('charge CO: 1 g').target as Substance).formula?.formula?.text).not.toBe('Co');
    expect(resolved('substance metal: Co\ncharge CO: 1 g').target?.name).not.toBe('metal');
  });
});

describe('what the handbook fills in', () => {
  it('a density and a CAS number of the same substance', () => {
    const ref = resolved('substance toluene: C7H8, purity 99 %\ncharge toluene: 10 mL');
    expect([whereOf(ref.target), densityOf(ref)]).toEqual(['page', expect.stringMatching(/^0\.8/)]);
    expect((ref.target as Substance).purity?.quantity.number.text).toBe('99');
    expect((ref.target as Substance).density?.origin.from).toBe('handbook');
  });
  it('nothing of a substance that only has the name', () => {
    const ref = resolved('substance toluene: C8H10\ncharge toluene: 10 mL');
    expect([(ref.target as Substance).formula?.text, densityOf(ref)]).toEqual(['C8H10', undefined]);
  });
  it('never over what the page says', () => {
    const ref = resolved('substance toluene: C7H8, density 0.9 g/mL\ncharge toluene: 10 mL');
    expect([densityOf(ref), (ref.target as Substance).densityAt]).toEqual(['0.9', undefined]);
  });
  it('a declared name by another of its usual names', () =>
    expect(whereOf(resolved('substance ethyl acetate: C4H8O2, purity 90 %\ncharge EtOAc: 1 g').target)).toBe('page'));
  it('the same page that declares both names keeps them apart', () => {
    const page = pageOf('substance ethyl acetate: C4H8O2\nsubstance EtOAc: C4H8O2\ncharge EtOAc: 1 g');
    expect(page.charges[0]!.name.target?.name).toBe('EtOAc');
  });
});

describe('a strength in brackets', () => {
  const solution = (text: string) => {
    const { target } = resolved(text);
    const { strength, solute, solvent, where } = (target ?? {}) as Solution;
    const written = strength?.kind === 'written' ? strength.datum.quantity : undefined;
    return {
      kind: target?.kind,
      strength: `${written?.number.text} ${written?.unit?.symbol}`,
      solute: solute?.target,
      solvent: solvent?.text,
      where: where?.kind,
    };
  };

  it('of a substance of the page: that one is the solute', () => {
    const own = solution('substance n-butyllithium: C4H9Li, purity 90 %\ncharge n-BuLi (2.5 M in hexanes): 4.0 mL');
    expect(own).toMatchObject({ kind: 'solution', strength: '2.5 M', solvent: 'hexanes' });
    expect((own.solute as Substance).purity).toBeDefined();
    expect(whereOf(own.solute)).toBe('page');
  });
  it('of a substance of a register, too', () => {
    const { target } = resolved('charge n-BuLi (2.5 M in hexanes): 4.0 mL', {
      'stock.tare': 'substance n-BuLi: C4H9Li, lot 7\n',
    });
    expect(whereOf((target as Solution).solute?.target)).toBe('register');
  });
  it('of anything else the handbook is asked', () =>
    expect(solution('charge n-BuLi (1.6 M in hexanes): 4.0 mL')).toMatchObject({
      kind: 'solution',
      strength: expect.stringMatching(/^1\.6 /),
    }));
  it('a name that is declared with its bracket is that name', () =>
    expect(
      resolved('substance thing (2.5 M in hexanes): C4H9Li\ncharge thing (2.5 M in hexanes): 4.0 mL').target?.kind,
    ).toBe('substance'));
  it('other words in brackets are no strength', () => {
    expect(resolved('substance thing: C4H9Li\ncharge thing (fresh): 1 g').target).toBeUndefined();
    expect(resolved('substance thing: C4H9Li\ncharge thing (2 bottles): 1 g').target).toBeUndefined();
    expect(resolved('charge moon dust (2.5 M in hexanes): 1 g').target).toBeUndefined();
  });
});

describe('solutions', () => {
  it('know their solute and solvent by name', () => {
    const { solutions } = pageOf('solution soda: 2.0 M sodium hydroxide in water');
    expect([solutions[0]!.solute?.target?.name, solutions[0]!.solvent?.target?.name]).toEqual([
      'sodium hydroxide',
      'water',
    ]);
  });
  it('may be made from solutions that stand below', () => {
    const { solutions } = pageOf(
      'solution thin: 10 mL thick in water, made up to 100 mL\nsolution thick: 2.0 M NaOH in water',
    );
    expect(solutions[0]!.solute?.target).toBe(solutions[1]);
  });
  it.each([
    'solution it: 10 mL it in water, made up to 100 mL',
    'solution it: 10 mL that in water, made up to 100 mL\nsolution that: 10 mL it in water, made up to 100 mL',
  ])('of themselves end: %s', (text) => expect(pageOf(text).solutions).toHaveLength(text.split('\n').length));
  it('of a register are resolved where they are used', () => {
    const others = { 'stock.tare': 'solution soda: 2.0 M base in water\n' };
    const { target } = resolved('substance base: KOH\ncharge soda: 10 mL', others);
    expect((target as Solution).solute?.target?.where.kind).toBe('page');
  });
});

describe('vessels and balances', () => {
  const weighing = (text: string, others = {}) => pageOf(text, others).products.at(-1)!.amount.weighing;
  it('of the page, of a register', () => {
    const line = 'product salt: gross 54.8 g, in F-12, on B-2';
    const stock = {
      'glass.tare': 'vessel F-12: flask, tare 41.2 g\nbalance B-2: readability 0.1 g\nbalance B-3: readability 1 g\n',
    };
    expect(weighing(line).vessel?.target).toBeUndefined();
    expect(weighing(line, stock).vessel?.target?.where.kind).toBe('register');
    expect(weighing(line, stock).balance?.target?.name).toBe('B-2');
    expect(weighing(`vessel f-12: flask\n${line}`, stock).vessel?.target?.where.kind).toBe('page');
  });
  it('a vessel that nobody declared is one once it was weighed empty', () => {
    const { vessels } = pageOf('weigh beaker 4: tare 41.2 g\nproduct salt: gross 54.8 g, in beaker 4');
    expect(vessels.map((v) => v.name)).toEqual(['beaker 4']);
    expect(weighing('weigh beaker 4: tare 41.2 g\nproduct salt: gross 54.8 g, in beaker 4').vessel?.target?.name).toBe(
      'beaker 4',
    );
  });
  it('a weighing with content makes no vessel', () =>
    expect(pageOf('weigh salt: tare 41.2 g, gross 54.8 g\nweigh salt: tare 41.2 g, in F-1').vessels).toEqual([]));
  it('the only balance of a page is that of every reading', () => {
    const line = 'product salt: gross 54.8 g, tare 41.2 g';
    expect(weighing(`balance B-2: readability 0.1 g\n${line}`).balance?.target?.name).toBe('B-2');
    expect(weighing(`balance B-2: readability 0.1 g\nbalance B-3: readability 1 g\n${line}`).balance).toBeUndefined();
    expect(weighing(line, { 'stock.tare': 'balance B-9: readability 0.1 g\n' }).balance?.target?.name).toBe('B-9');
  });
  it('`in toluene` is a solvent', () =>
    expect(pageOf('charge NaOH: 1.0 g, in toluene').charges[0]!.amount.weighing.vessel).toBeUndefined());
});
