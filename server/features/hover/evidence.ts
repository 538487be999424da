/** What was measured to prove something, and the page as a whole. */

import { BOILING_SPREAD } from '../../chem/boiling';
import type { Expectation } from '../../chem/tests';
import type { MeasuredValue } from '../../compute/measured';
import type { NeutralisationValue } from '../../compute/neutralise';
import { type Asked, confirming, type TestLegValue, type TestValue } from '../../compute/tests';
import type { MeasurementValue } from '../../compute/values';
import { type Held, isHeld, type Result } from '../../quantity/held';
import { show } from '../../quantity/show';
import { footnotes } from '../working';
import { after, brief, type Desk, type Found, head, places, plainText, pointsAt, said, worked } from './desk';

/** Measured properties, classification tests, acid and base that met, and the page as a whole. */
export function evidenceHover(desk: Desk): Found | undefined {
  const { tests, measured, measurements, neutralisations } = desk.result.values;
  const test = tests.find(({ test: { entry } }) => pointsAt(desk, entry.span));
  if (test) return testHover(desk, test);
  const property = measured.find(({ measured: { span } }) => pointsAt(desk, span));
  if (property) return { span: property.measured.span, lines: measuredLines(desk, property) };
  const spectrum = measurements.filter(({ measurement: { entry } }) => pointsAt(desk, entry.span));
  if (spectrum[0]) return { span: spectrum[0].measurement.entry.mark, lines: measurementLines(desk, spectrum) };
  const neutralisation = neutralisations.find(({ neutralisation: { entry } }) => pointsAt(desk, entry.span));
  if (neutralisation)
    return { span: neutralisation.neutralisation.entry.mark, lines: neutralisationLines(desk, neutralisation) };
  return pageHover(desk);
}

function testHover(desk: Desk, value: TestValue): Found {
  const { test, known, tested, others, discriminates, legs } = value;
  const leg = legs.find((l) => pointsAt(desk, l.leg.span));
  const span = leg && !pointsAt(desk, head(test.entry)) ? leg.leg.span : test.entry.mark;
  if (!known)
    return {
      span,
      lines: [`**${plainText(test.name.text)}** · test · no test of this name is known; nothing is foretold`],
    };
  const confirm = confirming(value).map(({ name }) => plainText(name));
  return {
    span,
    lines: [
      `**${plainText(known.name)}** · test · ${plainText(known.reagent)}`,
      ...[tested, ...others].flatMap((asked) => (asked?.expected ? [dueLine(asked, asked.expected)] : [])).slice(0, 4),
      ...said([
        leg?.outcome && seenLine(leg),
        discriminates === false && 'does not tell product and starting material apart',
        confirm.length > 0 && `would confirm it: ${confirm.join(', ')}`,
      ]),
      ...after(
        `usual: ${known.conditions}, ${known.from}–${known.to} °C, within ${known.positiveWithin} s`,
        `false positives: ${known.falsePositives}`,
        `false negatives: ${known.falseNegatives}`,
      ),
      ...after(`caution: ${known.caution}; see the safety data sheet and the rules of the site`, known.source),
    ],
  };
}

/** `isopentyl acetate (tested): positive expected, magenta to burgundy (ester)`. */
function dueLine({ substance, role, structure }: Asked, { result, legs }: Expectation): string {
  const [due] = legs;
  const from = structure?.from === 'handbook' ? '; structure from the handbook' : '';
  return `${plainText(substance.name)} (${role}): ${result} expected, ${plainText(due!.observation)} (${plainText(due!.feature)})${from}`;
}

const AGAINST = {
  supports: 'as the structure should show',
  contradicts: '**against the structure**',
  unclear: undefined,
} as const;
const FOLLOWS = {
  supports: 'the conclusion follows',
  contradicts: '**the conclusion does not follow**',
  unclear: undefined,
};

const seenLine = ({ outcome, structure, conclusion }: TestLegValue): string =>
  said([`here: ${outcome}`, AGAINST[structure], FOLLOWS[conclusion]]).join(' · ');

function measuredLines(desk: Desk, value: MeasuredValue): string[] {
  const { measured, found, calculated, literature, deviation, width, opticalPurity } = value;
  const where = places(desk, measured.entry.span);
  const celsius = measured.kind === 'mp' || measured.kind === 'bp';
  const worth = (held: Held): string => (celsius ? show(held, { unit: '°C' }) : show(held));
  const title = `**${plainText(measured.name.text)}** · ${measured.kind}`;
  if (measured.kind === '1H NMR') return [title, ...hydrogenLines(value)];
  const derived = isHeld(calculated) && calculated.working.formula !== undefined;
  const computed = derived ? calculated : undefined;
  const asked = measured.pressure ?? measured.spot ?? measured.length ?? measured.concentration;
  return [
    `${title}${found && found !== calculated ? ` ${found.working.written ?? worth(found)}` : ''}`,
    ...said([
      computed && resultLine(measured.kind, worth(computed)),
      !isHeld(calculated) && asked && `not computable: needs ${plainText(calculated.what)}`,
      ...(computed ? worked(computed, where, 2) : []),
      literature && `literature: ${literature.working.written ?? worth(literature)}`,
      deviation && `difference: ${celsius ? `${show({ ...deviation, kind: 'number' })} K` : show(deviation)}`,
      width && `range of ${show({ ...width, kind: 'number' })} K`,
      opticalPurity && `optical purity ${show(opticalPurity)}`,
    ]),
    ...after(...footnotes([...(computed ? [computed] : []), ...(opticalPurity ? [opticalPurity] : [])])),
  ];
}

function resultLine(kind: MeasuredValue['measured']['kind'], worth: string): string {
  switch (kind) {
    case 'bp':
      return `estimate: **about ${worth}, ± ${BOILING_SPREAD} K**`;
    case 'refractive index':
      return `at the temperature of the literature: **${worth}**`;
    case 'optical rotation':
      return `specific rotation **${worth}**`;
    default:
      return `computed: **${worth}**`;
  }
}

function hydrogenLines({ found, calculated, hydrogens }: MeasuredValue): string[] {
  if (!found) return [];
  const parts = found.working.written ?? '';
  const formula = hydrogens
    ? `formula: ${hydrogens.all}${hydrogens.least < hydrogens.all ? `, of them ${hydrogens.all - hydrogens.least} on heteroatoms that may not show` : ''}`
    : !isHeld(calculated) && `formula: needs ${plainText(calculated.what)}`;
  return said([
    `${parts} = **${show(found)} hydrogens**`,
    formula,
    hydrogens?.counted.doubt && `not judged: the line names ${plainText(hydrogens.counted.doubt)}`,
  ]);
}

function measurementLines(desk: Desk, values: readonly MeasurementValue[]): string[] {
  const [first] = values;
  const where = places(desk, first!.measurement.entry.span);
  return [
    `**${plainText(first!.measurement.name.text)}** · ${first!.kind}${first!.adduct ? ` ${plainText(first!.adduct)}` : ''}`,
    ...values.map(({ what, calculated, found }) => {
      const computed = isHeld(calculated) ? `**${brief(calculated)}** computed` : `needs ${plainText(calculated.what)}`;
      return `${what ? `${what}: ` : ''}found ${found.working.written ?? show(found)} · ${computed}`;
    }),
    ...(values.length === 1 && isHeld(first!.calculated) ? worked(first!.calculated, where, 2) : []),
  ];
}

function neutralisationLines(desk: Desk, value: NeutralisationValue): string[] {
  const { neutralisation, there, certain, needed, neededMass, neededVolume, added, short, gas, heat } = value;
  const where = places(desk, neutralisation.entry.span);
  const amount = [neededVolume, neededMass].find(isHeld);
  return [
    `**${plainText(neutralisation.what.text)}** · neutralised${short ? ` · **${show(short)} short**` : ''}`,
    ...said([
      isHeld(there) && `${certain ? 'there' : 'at most'}: ${show(there)}`,
      isHeld(needed) && `needed: ${show(needed)}${amount ? ` (${show(amount)})` : ''}`,
      isHeld(added) && `added: ${worked(added, where, 1)[0] ?? show(added)}`,
      gas && `gas: ${show(gas.volume)} of ${plainText(gas.gas)} at 20 °C`,
      heat && `heat: about ${show(heat)}`,
    ]),
  ];
}

/** On the line that opens a page: what went in, what came out. */
function pageHover(desk: Desk): Found | undefined {
  const { page, values } = desk.result;
  const { statement } = desk.place.block;
  if (statement?.keyword !== 'experiment' || !page.id) return undefined;
  const { ledger, metrics } = values;
  const line = (label: string, result: Result | undefined) => result && isHeld(result) && `${label} ${brief(result)}`;
  const shown = said([
    line('in', ledger?.in),
    line('out', ledger?.out),
    line('unaccounted for', ledger?.unaccounted),
    ledger && ledger.open.length > 0 && `not weighed: ${ledger.open.map(({ what }) => plainText(what)).join(', ')}`,
    line('E factor', metrics?.eFactor),
    line('process mass intensity', metrics?.processMassIntensity),
    line('reaction mass efficiency', metrics?.reactionMassEfficiency),
  ]);
  if (shown.length === 0) return undefined;
  const title = page.title ? ` · ${plainText(page.title.text)}` : '';
  return { span: page.id.span, lines: [`**${plainText(page.id.text)}**${title}`, ...shown] };
}
