/** Names that a group must and must not have stand beside its rule; pairs are those of a bench's list of cautions. */
import { describe, expect, test } from 'vitest';
import { clashes, groupsOf, reactiveGroups } from '../../../server/compute/reactive-groups';
import { findInHandbook } from '../../../server/model/handbook';

function groups(name: string): ReadonlySet<string> {
  const found = findInHandbook(name);
  if (found?.kind !== 'one' || found.entry.kind !== 'substance') throw new Error(`${name} is no one substance`);
  return groupsOf(found.entry);
}

describe.each(reactiveGroups().map((row) => [row.group, row] as const))('%s', (group, { mustMatch, mustNotMatch }) => {
  test('has its examples and not the others', () => {
    expect(mustMatch.filter((name) => !groups(name).has(group))).toEqual([]);
    expect(mustNotMatch.filter((name) => groups(name).has(group))).toEqual([]);
    expect(mustMatch.length).toBeGreaterThan(0);
  });
});

const worst = (a: string, b: string): string | undefined => clashes(groups(a), groups(b))[0]?.severity;

describe('pairs', () => {
  // Usual cautions of bench manuals: common practice, no single source.
  test.each([
    ['sodium azide', 'hydrogen chloride'],
    ['sodium azide', 'dichloromethane'],
    ['sodium hypochlorite', 'hydrogen chloride'],
    ['sodium hypochlorite', 'ammonia'],
    ['sodium hypochlorite', 'triethylamine'],
    ['sodium cyanide', 'acetic acid'],
    ['nitric acid', 'acetone'],
    ['nitric acid', 'ethanol'],
    ['hydrogen peroxide', 'acetone'],
    ['chloroform', 'acetone'],
    ['chloroform', 'sodium hydroxide'],
    ['dimethyl sulfoxide', 'acetyl chloride'],
    ['dimethyl sulfoxide', 'thionyl chloride'],
    ['N,N-dimethylformamide', 'sodium hydride'],
    ['dimethyl sulfoxide', 'sodium hydride'],
    ['lithium aluminium hydride', 'water'],
    ['perchloric acid', 'ethanol'],
    ['silver nitrate', 'ammonia'],
    ['sodium sulfide nonahydrate', 'hydrogen chloride'],
    ['sodium', 'dichloromethane'],
    ['potassium fluoride', 'sulfuric acid'],
    ['potassium permanganate', 'acetone'],
    ['butyllithium', 'water'],
  ])('%s and %s: danger', (a, b) => {
    expect(worst(a, b)).toBe('danger');
    expect(worst(b, a)).toBe('danger');
  });

  test('sodium hydrogencarbonate and acetic acid: caution', () => {
    expect(worst('sodium hydrogencarbonate', 'acetic acid')).toBe('caution');
  });

  test.each([
    ['acetone', 'ethyl acetate'],
    ['toluene', 'hexane'],
    ['sodium chloride', 'water'],
    ['dichloromethane', 'chloroform'],
    ['sodium sulfate', 'water'],
    ['ethanol', 'toluene'],
    ['sodium chloride', 'ethanol'],
    ['triethylamine', 'sodium chloride'],
    ['methanol', 'acetone'],
    ['silicon dioxide', 'ethyl acetate'],
  ])('%s and %s: nothing', (a, b) => {
    expect(worst(a, b)).toBeUndefined();
  });

  // 40 CFR part 265, Appendix V, "Examples of potentially incompatible waste": groups 1-A/1-B to 6-A/6-B.
  test.each([
    ['1: alkaline sludge with acid', 'sodium hydroxide', 'sulfuric acid', 'heat'],
    ['2: reactive metals with acid', 'magnesium', 'hydrogen chloride', 'fire'],
    ['2: metal hydrides with acid', 'sodium hydride', 'hydrogen chloride', 'gas'],
    ['3: alcohols with water-reactive metal', 'ethanol', 'sodium', 'gas'],
    ['3: water with lithium', 'water', 'lithium', 'fire'],
    ['3: water with thionyl chloride', 'water', 'thionyl chloride', 'toxic gas'],
    ['4: halogenated hydrocarbon with reactive metal', 'chloroform', 'potassium', 'explosion'],
    ['4: aldehyde with concentrated acid', 'benzaldehyde', 'nitric acid', 'fire'],
    ['5: cyanide with acid', 'sodium cyanide', 'hydrogen chloride', 'toxic gas'],
    ['5: sulfide with acid', 'sodium sulfide nonahydrate', 'hydrogen chloride', 'toxic gas'],
    ['6: chlorates with organic matter', 'potassium chlorate', 'acetic acid', 'fire'],
    ['6: permanganate with a solvent', 'potassium permanganate', 'toluene', 'fire'],
    ['6: peroxide with a flammable liquid', 'hydrogen peroxide', 'ethanol', 'explosion'],
    ['6: nitric acid with a metal', 'nitric acid', 'zinc', 'fire'],
  ])('%s', (_, a, b, consequence) => {
    expect(clashes(groups(a), groups(b)).flatMap((pair) => pair.consequence)).toContain(consequence);
  });
});
