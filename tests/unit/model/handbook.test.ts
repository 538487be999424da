import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  findFormulaInHandbook,
  findInHandbook,
  findSoluteInHandbook,
  type HandbookSolution,
  type HandbookSubstance,
  handbookNames,
} from '../../../server/model/handbook';

const nameOf = (name: string) => {
  const found = findInHandbook(name);
  return found?.kind === 'one' ? found.entry.name : found?.names;
};

function substance(name: string): HandbookSubstance {
  const found = findInHandbook(name);
  if (found?.kind !== 'one' || found.entry.kind !== 'substance') throw new Error(`${name} is no substance`);
  return found.entry;
}

function solution(name: string): HandbookSolution {
  const found = findInHandbook(name);
  if (found?.kind !== 'one' || found.entry.kind !== 'solution') throw new Error(`${name} is no solution`);
  return found.entry;
}

describe('findInHandbook: substances', () => {
  it('gives every value with its source', () => {
    expect(substance('Acetic Acid')).toEqual({
      kind: 'substance',
      name: 'acetic acid',
      synonyms: ['glacial acetic acid', 'ethanoic acid', 'AcOH', 'HOAc'],
      formula: 'C2H4O2',
      written: 'CH3CO2H',
      smiles: 'CC(O)=O',
      cas: '64-19-7',
      state: 'liquid',
      density: {
        digits: '1.049',
        unit: 'g/mL',
        at: '20',
        source: 'from memory; the VDI Heat Atlas equation gives 1.048 g/mL (within 0.7 %)',
        doubtful: false,
      },
      mp: {
        digits: '17',
        unit: '°C',
        source: 'CRC Handbook organic constants; memory agrees within 3 °C',
        doubtful: false,
      },
      bp: {
        digits: '117.9',
        unit: '°C',
        source: 'CRC Handbook organic constants; memory agrees within 3 °C',
        doubtful: false,
      },
      pKa: { acid: ['4.76'], conjugateAcid: [], source: 'from memory', doubtful: true },
      hazards: ['H226', 'H314'],
      hazardSource:
        'from memory; not a legal classification: see the safety data sheet; the Japanese national ' +
        'classification (NITE) agrees on H226 H314; it adds H312 H318 H370',
      wasteClass: 'non-halogenated organic',
      note: 'melts at 16.6 °C: can be solid in a cool room',
      source:
        'the structure stored for this CAS number in the PubChem extract of the open library chemicals is the same ' +
        '(stereo marks not compared)',
    });
  });

  it('leaves out what it does not know', () => {
    const hexanes = substance('hexanes');
    expect(hexanes).not.toHaveProperty('formula');
    expect(hexanes).not.toHaveProperty('smiles');
    expect(substance('nitric acid').density, 'nobody charges it pure').toBeUndefined();
    expect(substance('water').pKa?.acid).toEqual(['14.0']);
  });

  it('says which values are doubtful', () => {
    expect(substance('polyphosphoric acid').density).toMatchObject({ doubtful: true, source: 'from memory' });
    expect(substance('water').density).toMatchObject({ digits: '0.9982', at: '20', doubtful: false });
  });

  it.each([
    ['THF', 'tetrahydrofuran'],
    ['Et2O', 'diethyl ether'],
    ['N,N-DIMETHYLFORMAMIDE', 'N,N-dimethylformamide'],
    ['petroleum ether 40–60 °C', 'petroleum ether 40-60'],
    ['Hünig’s base', 'N,N-diisopropylethylamine'],
    ['(−)-Menthol', '(-)-menthol'],
    ['α-pinene', 'alpha-pinene'],
    ['sulphuric acid', 'sulfuric acid'],
    ['dimethyl sulphoxide', 'dimethyl sulfoxide'],
    ['sodium bicarbonate', 'sodium hydrogencarbonate'],
    ['sodium hydrogen carbonate', 'sodium hydrogencarbonate'],
    ['potassium hydrogen sulfate', 'potassium hydrogensulfate'],
    ['cesium carbonate', 'caesium carbonate'],
    ['lithium aluminum hydride', 'lithium aluminium hydride'],
    ['t-butyl bromide', '2-bromo-2-methylpropane'],
    ['tert-butyl chloride', '2-chloro-2-methylpropane'],
    ['n-hexane', 'hexane'],
    ['para-toluidine', 'p-toluidine'],
    ['triethyl amine', 'triethylamine'],
    ['anhydrous MgSO4', 'magnesium sulfate'],
    ['Na2SO4 (anhydrous)', 'sodium sulfate'],
    ['dry toluene', 'toluene'],
    ['NaOH pellets', 'sodium hydroxide'],
  ])('%s is %s', (name, is) => expect(nameOf(name)).toBe(is));

  it('keeps apart what letters tell apart', () => {
    expect(nameOf('D-glucose')).toBe('D-glucose');
    expect(nameOf('d-glucose')).toBeUndefined();
    expect(nameOf('n,n-dimethylformamide')).toBeUndefined();
  });

  it('has several for a name that leaves it open', () => {
    expect(nameOf('xylene')).toEqual(['m-xylene', 'o-xylene', 'p-xylene']);
    expect(nameOf('copper sulphate')).toEqual(['copper(II) sulfate', 'copper(II) sulfate pentahydrate']);
  });

  it('knows nothing of what it does not hold', () => {
    for (const name of ['', ' ', 'unobtainium', '2 M', '5 %', '(', 'M', 'conc.', 'in water', '2 M  in water']) {
      expect(findInHandbook(name), name).toBeUndefined();
    }
  });

  it('answers any text', () => {
    const piece = fc.constantFrom(
      '2.5 M',
      '%',
      'conc.',
      ' in ',
      '(',
      ')',
      'HCl',
      'THF',
      ' ',
      ',',
      'sat.',
      '30 %',
      '\n',
      '"',
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.array(piece, { maxLength: 8 }).map((p) => p.join('')),
    );
    fc.assert(
      fc.property(text, (t) => void findInHandbook(t)),
      { numRuns: 2000 },
    );
  });
});

describe('findInHandbook: formulas', () => {
  it.each([
    ['NaOH', 'sodium hydroxide'],
    ['H2SO4', 'sulfuric acid'],
    ['HCl', 'hydrogen chloride'],
    ['H₂O', 'water'],
    ['CuSO4·5H2O', 'copper(II) sulfate pentahydrate'],
    ['CuSO₄ · 5 H₂O', 'copper(II) sulfate pentahydrate'],
    ['(COCl)2', 'oxalyl chloride'],
    ['CH3CO2H', 'acetic acid'],
    ['C2H5OH', 'ethanol'],
    ['CH2Cl2', 'dichloromethane'],
    ['SiO2', 'silicon dioxide'],
    ['NBS', 'N-bromosuccinimide'],
    ['PCC', 'pyridinium chlorochromate'],
  ])('%s is %s', (formula, is) => expect(nameOf(formula)).toBe(is));

  it('reads case exactly', () => {
    expect(nameOf('naoh')).toBeUndefined();
    expect(nameOf('CO')).toBe('carbon monoxide');
    expect(nameOf('Co')).toBeUndefined();
  });

  it('finds a composition in Hill order', () => {
    expect(findFormulaInHandbook('HNaO')).toMatchObject({ kind: 'one', entry: { name: 'sodium hydroxide' } });
    expect(findFormulaInHandbook('C2H4O2')).toEqual({ kind: 'several', names: ['acetic acid', 'methyl formate'] });
    expect(findFormulaInHandbook('CH2O')).toMatchObject({ kind: 'one', entry: { name: 'formaldehyde' } });
    expect(findFormulaInHandbook('C99')).toBeUndefined();
    expect(findFormulaInHandbook('')).toBeUndefined();
  });
});

describe('findInHandbook: solutions', () => {
  it('gives strength, density and whether they are doubtful', () => {
    expect(solution('conc. sulfuric acid')).toEqual({
      kind: 'solution',
      name: 'conc. sulfuric acid 96 %',
      synonyms: ['conc. sulfuric acid', 'concentrated sulfuric acid'],
      solute: 'sulfuric acid',
      soluteFormula: 'H2O4S',
      solvent: 'water',
      strength: { digits: '96', unit: '% w/w' },
      density: {
        digits: '1.835',
        unit: 'g/mL',
        at: '20',
        source:
          'three published tables of concentrated reagents give this strength and mol/L; ' +
          'density from memory where they round',
        doubtful: false,
      },
      source:
        'three published tables of concentrated reagents give this strength and mol/L; ' +
        'density from memory where they round',
      doubtful: false,
    });
    expect(solution('ammonia 7 M in methanol').doubtful).toBe(true);
  });

  it.each([
    ['concentrated hydrochloric acid', 'conc. hydrochloric acid 37 %'],
    ['conc. HCl', 'conc. hydrochloric acid 37 %'],
    ['HCl (conc.)', 'conc. hydrochloric acid 37 %'],
    ['37 % hydrochloric acid', 'conc. hydrochloric acid 37 %'],
    ['Conc. sulphuric acid', 'conc. sulfuric acid 96 %'],
    ['conc. H2SO4', 'conc. sulfuric acid 96 %'],
    ['brine', 'saturated sodium chloride'],
    ['sat. NaHCO3', 'saturated sodium hydrogencarbonate'],
    ['saturated aqueous sodium bicarbonate solution', 'saturated sodium hydrogencarbonate'],
    ['sat. aq. NH4Cl', 'saturated ammonium chloride'],
    ['30 % H2O2', 'hydrogen peroxide 30 %'],
    ['hydrogen peroxide (30 %)', 'hydrogen peroxide 30 %'],
    ['10 % NaOH', 'sodium hydroxide 10 %'],
    ['n-BuLi (2.5 M in hexanes)', 'butyllithium 2.5 M in hexanes'],
    ['2.5 M n-BuLi in hexanes', 'butyllithium 2.5 M in hexanes'],
    ['1 M TBAF in THF', 'TBAF 1.0 M in tetrahydrofuran'],
    ['4 M HCl in dioxane', 'hydrogen chloride 4.0 M in 1,4-dioxane'],
    ['1 M DIBAL-H in toluene', 'DIBAL-H 1.0 M in toluene'],
    ['formalin', 'formaldehyde 37 %'],
  ])('%s is %s', (name, is) => expect(nameOf(name)).toBe(is));

  it.each([
    'conc. nitric acid',
    'conc. HNO3',
    'conc. aqueous ammonia',
    'conc. NH3',
    'hydrochloric acid',
    '1 M DIBAL-H',
  ])('%s leaves the strength or the solvent open', (name) => expect(findInHandbook(name)?.kind).toBe('several'));

  it.each([
    ['2 M hydrochloric acid', 'hydrogen chloride', '2', 'water'],
    ['2M HCl', 'hydrogen chloride', '2', 'water'],
    ['HCl (6.0 M)', 'hydrogen chloride', '6.0', 'water'],
    ['6 N HCl', 'hydrogen chloride', '6', 'water'],
    ['0.5 M NaCl', 'sodium chloride', '0.5', 'water'],
    ['2 M NH3 in methanol', 'ammonia', '2', 'methanol'],
    ['0.50 mol/L potassium hydroxide in ethanol', 'potassium hydroxide', '0.50', 'ethanol'],
  ])('%s tells all by its name', (name, solute, digits, solvent) => {
    const found = solution(name);
    expect(found).toMatchObject({ name, solute, solvent, strength: { digits, unit: 'mol/L' }, doubtful: false });
    expect(found.density).toBeUndefined();
  });

  it('does not guess', () => {
    expect(findInHandbook('5 % sodium hydrogencarbonate'), 'by mass or by volume?').toBeUndefined();
    expect(findInHandbook('1 M toluene'), 'in what?').toBeUndefined();
    expect(findInHandbook('1 M TiCl4 in water')?.kind, 'as written').toBe('one');
    expect(findInHandbook('1 N H2SO4'), 'how many equivalents?').toBeUndefined();
    expect(findInHandbook('2 m HCl'), 'molality').toBeUndefined();
  });
});

describe('findSoluteInHandbook', () => {
  it.each([
    ['hydrochloric acid', 'hydrogen chloride'],
    ['aqueous ammonia', 'ammonia'],
    ['ammonium hydroxide', 'ammonia'],
    ['aqueous hydrobromic acid', 'hydrogen bromide'],
    ['brine', 'sodium chloride'],
    ['NaOH', 'sodium hydroxide'],
    ['THF', 'tetrahydrofuran'],
  ])('%s holds %s', (name, is) => expect(findSoluteInHandbook(name)?.name).toBe(is));

  it('is undefined where it is open or unknown', () => {
    expect(findSoluteInHandbook('xylene')).toBeUndefined();
    expect(findSoluteInHandbook('unobtainium')).toBeUndefined();
  });
});

describe('handbookNames', () => {
  it('lists every entry once, and each is found under its name', () => {
    const names = handbookNames();
    expect(names.length).toBeGreaterThan(1000);
    for (const { name, kind } of names) {
      const found = findInHandbook(name);
      expect(found, name).toMatchObject({ kind: 'one', entry: { name, kind } });
      if (found?.kind === 'one') for (const other of found.entry.synonyms) expect(nameOf(other), other).toBe(name);
    }
  });

  it('shows formulas as a bottle does', () => {
    const formula = (name: string) => handbookNames().find((n) => n.name === name)?.formula;
    expect(formula('sodium hydroxide')).toBe('NaOH');
    expect(formula('copper(II) sulfate pentahydrate')).toBe('CuSO4·5H2O');
    expect(formula('toluene')).toBe('C6H5CH3');
    expect(formula('1-octanol')).toBe('C8H18O');
    expect(formula('hexanes')).toBeUndefined();
  });
});
