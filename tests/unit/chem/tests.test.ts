import { describe, expect, it, test } from 'vitest';
import { readObservation } from '../../../server/chem/observation';
import { expectedOf, knownTests, mayMislead, testsNamed } from '../../../server/chem/tests';
import { findInHandbook } from '../../../server/model/handbook';

const byId = (id: string) => knownTests().find((known) => known.id === id)!;

function subject(name: string) {
  const found = findInHandbook(name);
  if (found?.kind !== 'one' || found.entry.kind !== 'substance') throw new Error(`${name} is not in the handbook`);
  const { smiles, cas } = found.entry;
  return { name, ...(smiles && { smiles }), ...(cas && { cas }) };
}

// Standard qualitative organic and inorganic analysis (Shriner, Hermann, Morrill, Curtin and Fuson, The Systematic
// Identification of Organic Compounds; Vogel's textbooks), cited from memory.
const ANSWERS = `
bromine: cyclohexene +, toluene -, phenol +
baeyer: cyclohexene +, benzaldehyde +, acetophenone -
dnp: acetone +, benzaldehyde +, ethyl acetate -, benzoic acid -, cyclohexanol -, acetanilide -
tollens: benzaldehyde +, acetone -, benzoin +
fehling: butyraldehyde +, benzaldehyde -, cyclohexanone -
benedict: D-glucose +, benzaldehyde -
schiff: hexanal +, 2-butanone -
bisulfite: cyclohexanone +, acetone +, benzophenone -
iodoform: acetone +, 2-propanol +, ethanol +, acetaldehyde +, 1-phenylethanol +, acetophenone +, 1-propanol ?,
  cyclohexanone -, 3-pentanone ?, ethyl acetate -
lucas: 2-methyl-2-propanol +, 2-butanol ~, 1-butanol -, isopentyl alcohol -, benzyl alcohol +, allyl alcohol +
chromic: isopentyl alcohol +, cyclohexanol +, 2-methyl-2-propanol -, benzaldehyde ~, acetone -
ceric: benzyl alcohol +
ferric: phenol +, cyclohexanol -, salicylic acid +, ethyl acetoacetate +
hydroxamate: isopentyl acetate +, isopentyl alcohol ?, acetic acid -, acetone -, acetic anhydride +,
  methyl salicylate !, gamma-butyrolactone +
hydrogencarbonate: benzoic acid +, phenol -, cyclohexanol -, p-toluenesulfonic acid +
silver-nitrate: 2-chloro-2-methylpropane +, 1-bromobutane ~, 1-chlorobutane ~, bromobenzene -, benzyl chloride +,
  allyl bromide +, acetyl chloride +
sodium-iodide: 1-bromobutane +, 1-chlorobutane ~, 2-chloro-2-methylpropane -, bromobenzene -
beilstein: chlorobenzene +, fluorobenzene -
hinsberg: butylamine +, aniline +, triethylamine -, diethylamine +
nitrous: aniline +, triethylamine -, N,N-dimethylaniline +
ninhydrin: glycine +, L-proline +
amide-hydrolysis: acetamide +, benzonitrile ~, acetanilide ~
iron-hydroxide: nitrobenzene +, aniline -
zinc-ammonium: nitrobenzene +, benzaldehyde !
molisch: D-glucose +, ethanol -
seliwanoff: D-fructose +, D-glucose ~
nitroprusside: acetone +, benzaldehyde -
lead-acetate-thiol: thiophenol +, dimethyl sulfide -
lassaigne-n: aniline +, ethanol -
lassaigne-s: thiophene +
lassaigne-x: bromobenzene +
flame: sodium chloride +, potassium bromide +
ion-chloride: sodium chloride +, sodium nitrate -
ion-sulfate: sodium sulfate +, sodium carbonate -, sodium sulfite -
ion-carbonate: sodium carbonate +, sodium hydrogencarbonate +
ion-nitrate: potassium nitrate +
ion-ammonium: ammonium chloride +, sodium chloride -
ion-iron3: iron(III) chloride +, iron(II) sulfate heptahydrate -
ion-copper: copper(II) sulfate +
ion-nickel: nickel(II) chloride hexahydrate +
ion-lead: lead(II) nitrate +
ion-aluminium: aluminium chloride +
peroxide-strip: benzoyl peroxide +, diethyl ether -
`;
const SIGNS: Readonly<Record<string, string>> = { '+': 'positive', '~': 'slow', '-': 'negative', '!': 'blank' };
const answers = ANSWERS.trim()
  .split(/\n(?=\S)/)
  .flatMap((line) => {
    const [id = '', rest = ''] = line.split(/: (.*)/s);
    return rest.split(/,\s+/).map((answer) => {
      const [, name = '', sign = ''] = /^(.*) (\S)$/s.exec(answer.trim())!;
      return { id, name, expected: SIGNS[sign] };
    });
  });

describe('what a structure should show', () => {
  test('all 123 answers are asked', () => expect(answers.length).toBe(123));

  it.each(answers)('$id of $name: $expected', ({ id, name, expected }) => {
    expect(expectedOf(byId(id), subject(name))?.result).toBe(expected);
  });

  it('says nothing of a structure that cannot be read, or of none', () => {
    expect(expectedOf(byId('dnp'), { smiles: 'C1CC' })).toBeUndefined();
    expect(expectedOf(byId('dnp'), {})).toBeUndefined();
  });
});

// The classes are those that the table's own lists of false answers name.
describe('known for false answers', () => {
  it.each([
    ['chromic', 'positive', 'phenol', true],
    ['chromic', 'positive', 'acetone', false],
    ['bromine', 'negative', 'cinnamic acid', true],
    ['bromine', 'negative', 'cyclohexene', false],
    ['tollens', 'negative', 'benzaldehyde', false],
    ['hydroxamate', 'positive', 'phenol', true],
    ['iodoform', 'positive', 'ethyl acetate', true],
  ] as const)('%s, %s, of %s: %s', (id, seen, name, expected) => {
    expect(mayMislead(byId(id), seen, subject(name))).toBe(expected);
  });
  it('says nothing without a structure', () => expect(mayMislead(byId('bromine'), 'negative', {})).toBe(false));
});

describe('the table', () => {
  it('has limits in order and at least one leg for each test', () => {
    expect(knownTests().length).toBe(53);
    for (const known of knownTests()) {
      expect(known.legs.length, known.id).toBeGreaterThan(0);
      expect(known.from, known.id).toBeLessThan(known.to);
      expect(known.positiveWithin, known.id).toBeLessThan(known.slowWithin);
      expect(known.source, known.id).toMatch(/textbooks|common practice/);
    }
  });

  it.each([
    ['Tollens', 'tollens'],
    ["Tollens' reagent", 'tollens'],
    ['2,4-DNP', 'dnp'],
    ['Brady’s test', 'dnp'],
    ['ferric chloride', 'ferric'],
    ['iron(III) chloride', 'ferric'],
    ['FeCl3', 'ferric'],
    ['iron(III) hydroxamate', 'hydroxamate'],
    ['sodium hydrogen carbonate', 'hydrogencarbonate'],
    ['NaHCO3', 'hydrogencarbonate'],
    ['bromine in ethyl acetate', 'bromine'],
    ['the Lucas test', 'lucas'],
    ['potassium permanganate test', 'baeyer'],
    ['silver nitrate in ethanol', 'silver-nitrate'],
    ['benzenesulphonyl chloride', 'hinsberg'],
  ])('%s is %s', (name, id) => expect(testsNamed(name).map((known) => known.id)).toEqual([id]));

  it('leaves open what two tests are called, and knows nothing of others', () => {
    expect(testsNamed('silver nitrate').map((known) => known.id)).toEqual(['silver-nitrate', 'ion-chloride']);
    expect(testsNamed('smell')).toEqual([]);
  });
});

// Wordings as students write them; what they mean follows from the table's observations.
describe('an observation', () => {
  it.each([
    ['hydroxamate', 'magenta at once', 'positive'],
    ['hydroxamate', 'stays yellow', 'negative'],
    ['hydroxamate', 'yellow', 'negative'],
    ['hydroxamate', 'brownish', undefined],
    ['ferric', 'violet at once', 'positive'],
    ['ferric', 'no violet colour', 'negative'],
    ['ferric', 'yellow stays', 'negative'],
    ['ferric', 'red-brown', undefined],
    ['ferric', 'from yellow to deep violet', 'positive'],
    ['dnp', 'red precipitate', 'positive'],
    ['dnp', 'orange-red crystals after 2 min', 'positive'],
    ['dnp', 'orange crystals after 8 min', 'slow'],
    ['dnp', 'stays clear', 'negative'],
    ['dnp', 'no precipitate', 'negative'],
    ['dnp', 'still none', 'negative'],
    ['dnp', 'no sign of a precipitate', 'negative'],
    ['dnp', 'orange precipitate, does not dissolve in ethanol', 'positive'],
    ['dnp', 'a precipitate that does not dissolve', undefined],
    ['dnp', 'white precipitate', undefined],
    ['dnp', 'perhaps a precipitate', undefined],
    ['dnp', 'no precipitate at first, orange needles on standing', 'slow'],
    ['tollens', 'no mirror', 'negative'],
    ['tollens', 'silver mirror', 'positive'],
    ['bromine', 'colour fades slowly', 'slow'],
    ['bromine', 'decolourised at once', 'positive'],
    ['bromine', 'orange colour stays', 'negative'],
    ['bromine', 'not decolourised', 'negative'],
    ['baeyer', 'purple goes, brown solid', 'positive'],
    ['baeyer', 'stays purple', 'negative'],
    ['hydrogencarbonate', 'gas at once', 'positive'],
    ['hydrogencarbonate', 'no gas', 'negative'],
    ['hydrogencarbonate', 'vigorous effervescence', 'positive'],
    ['lucas', 'cloudy at once', 'positive'],
    ['lucas', 'turbid after 4 min', 'slow'],
    ['lucas', 'clear', 'negative'],
    ['chromic', 'orange to blue-green within 2 s', 'positive'],
    ['chromic', 'stays orange', 'negative'],
    ['iodoform', 'yellow precipitate, antiseptic smell', 'positive'],
    ['iodoform', 'white solid', undefined],
    ['hinsberg', 'clear in base, solid on acid', 'positive'],
    ['nitrous', 'no gas in the cold', undefined],
    ['silver-nitrate', 'no precipitate in the cold, white solid on boiling', 'slow'],
    ['beilstein', 'green flame', 'positive'],
    ['beilstein', 'no green', 'negative'],
    ['hydroxamate', 'blank also violet', 'blank'],
    ['ferric', 'blank yellow, sample violet', undefined],
    ['ninhydrin', 'positive', 'positive'],
    ['ninhydrin', 'purple on heating', 'positive'],
    ['sodium-iodide', 'white precipitate on warming', 'slow'],
    ['flame', 'yellow', undefined],
    ['tollens', '', undefined],
    ['tollens', 'we were called away', undefined],
  ])('%s: “%s” is %s', (id, text, outcome) => {
    expect(readObservation(byId(id), text)?.outcome).toBe(outcome);
  });

  it.each(
    knownTests()
      .flatMap((known) => known.legs.map((leg) => ({ known, leg })))
      .filter(({ leg }) => leg.result === 'positive' || leg.result === 'negative'),
  )('of the table is never read as its opposite: $known.id, $leg.observation', ({ known, leg }) => {
    const opposite = leg.result === 'positive' ? 'negative' : 'positive';
    expect(readObservation(known, leg.observation)?.outcome).not.toBe(opposite);
  });
});
