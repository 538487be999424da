import { foldName } from '../../../grammar/names';
import type { PageSource } from '../../../grammar/tree';
import type { Values, WeighingValue } from '../../compute/values';
import type { Page, Reading, Vessel, VesselRef } from '../../model/page';
import type { TareElsewhere } from '../../model/world';
import { isHeld } from '../../quantity/held';
import { digits } from '../../quantity/show';
import type { Quantity } from '../../quantity/written';
import { isWritten, netClaimOf, originOf, weighingOf } from '../entries';
import { type Fix, type RuleContext, rule } from '../rule';
import { inChoice, inSnippet, lineAbove, lineBelow, sentences } from '../wording';

/** More recorded tares than these would bury the other fixes. */
const MOST_RECORDED = 5;

export default rule({
  code: 'tare-missing',
  family: 'weighing',
  severity: 'warning',
  fixable: 'always',
  title: 'A gross reading has no tare',
  why: `A gross reading is vessel and content together. Without the reading of the empty vessel there is no net mass, so no
amount and no yield. The tare of another vessel is never used in its place, and no tare is ever worked out backwards from a
net: two vessels of one kind differ by grams, and a tare that is fitted to the result proves nothing.`,
  help: `If the vessel still exists, weigh it now: empty, clean and dry, at room temperature, on the same balance, with the
same stopper and stirring bar; write the reading on a \`vessel\` line or as \`tare\` in the statement. If its tare stands on
another page, cite it: \`tare 27.236 g from HO-305\`. If the balance had been zeroed on the vessel, the reading is a \`net\`.`,
  examples: [
    {
      name: 'the tare stands on an earlier page',
      wrong: `experiment HO-311: Acetanilide
date: 2026-11-09
author: HO
product acetanilide: gross 57.43 g, in beaker 4
        ^^^^^^^^^^^ tare-missing: 57.43 g
`,
      right: `experiment HO-311: Acetanilide
date: 2026-11-09
author: HO
product acetanilide: tare 27.236 g from HO-305, gross 57.43 g, in beaker 4
`,
      files: {
        'earlier.tare': `experiment HO-305: Drying the beakers
date: 2026-11-02
author: HO
vessel beaker 4: 100 mL, tare 27.236 g
`,
      },
    },
    {
      name: 'no tare anywhere',
      wrong: `experiment TB-021: Benzoic acid
date: 2026-03-11
author: MK
product benzoic acid:
        ^^^^^^^^^^^^ tare-missing: A net of 2.216 g would need a tare of 41.207 g
  gross 43.423 g (net 2.216 g), in F-12
`,
      fixed: `experiment TB-021: Benzoic acid
date: 2026-03-11
author: MK
vessel F-12: tare  g
product benzoic acid:
  gross 43.423 g (net 2.216 g), in F-12
`,
      right: `experiment TB-021: Benzoic acid
date: 2026-03-11
author: MK
vessel F-12: tare 41.207 g
product benzoic acid:
  gross 43.423 g (net 2.216 g), in F-12
`,
    },
    {
      name: 'near misses: balance zeroed on the vessel, difference of a bottle, tare in the statement',
      right: `experiment TB-022: Three ways to weigh
date: 2026-03-12
author: MK
charge sodium chloride: net 2.216 g, in F-12
charge potassium chloride: before 60.5450 g, after 60.1562 g
charge potassium bromide: tare 12.114 g, gross 14.330 g
`,
    },
  ],
  sources: ['common practice, no source'],
  *check(context) {
    const { page, values, world, text } = context;
    for (const weighing of values.weighings) {
      const { gross, entry } = weighing;
      if (!gross || weighing.tare || isHeld(weighing.net)) continue;
      const vessel = weighingOf(page, entry)?.vessel;
      // A tare that is written and cannot be read is another finding.
      if ([entry, vessel?.target?.entry].some((e) => e && isWritten('tare', context.source, e))) continue;
      const recorded = vessel ? world.tares(foldName(vessel.text)).slice(0, MOST_RECORDED) : [];
      const reading = text(gross.reading.datum.span);
      const lost = entry.keyword === 'product' ? 'no net and no yield' : 'no net and no amount';
      const first = recorded[0];
      yield {
        span: entry.mark,
        block: entry.block,
        message: vessel
          ? sentences(
              `Gross ${reading} in ${vessel.text}, but no tare of ${vessel.text} is written: ${lost}.`,
              first
                ? `${first.id ?? 'The register'} records ${first.digits} ${first.unit}; or weigh it empty, clean and dry, on the same balance.`
                : `Weigh ${vessel.text} empty, clean and dry, on the same balance.`,
              backwards(context, weighing),
            )
          : sentences(
              `Gross ${reading}, but neither a tare nor a vessel is written: ${lost}.`,
              'Weigh the vessel empty, clean and dry, on the same balance.',
              backwards(context, weighing),
            ),
        related: recorded.map((tare) => ({
          origin: originOf(tare),
          message: `tare ${tare.digits} ${tare.unit} of ${tare.vessel}${tare.date ? `, ${tare.date}` : ''}`,
        })),
        doubts: [gross.reading.datum.span],
        fixes: fixes(context, weighing, gross.reading, vessel, recorded),
      };
    }
  },
});

/** What the claimed net would need, said and never written: the tare is to be read, not fitted. */
function backwards({ values, text }: RuleContext, { entry, gross }: WeighingValue): string | undefined {
  const claim = netClaimOf(values, entry)?.claim;
  const reading = gross?.reading.datum.quantity;
  if (!claim || !reading || reading.unit?.symbol !== claim.quantity.unit?.symbol) return undefined;
  const tare = difference(reading, claim.quantity);
  return tare && `A net of ${text(claim.span)} would need a tare of ${tare} ${reading.unit?.symbol}.`;
}

function difference(gross: Quantity, net: Quantity): string | undefined {
  const tare = gross.number.value.minus(net.number.value);
  return tare.isPositive() && !tare.isZero() ? digits(tare, Math.max(gross.number.place, net.number.place)) : undefined;
}

function fixes(
  { page, values, source }: RuleContext,
  weighing: WeighingValue,
  gross: Reading,
  vessel: VesselRef | undefined,
  recorded: readonly TareElsewhere[],
): readonly Fix[] {
  const { entry } = weighing;
  const before = { start: gross.word.start, end: gross.word.start };
  const unit = gross.datum.quantity.unit?.symbol ?? 'g';
  const cited = recorded.filter((tare) => tare.id !== undefined);
  const all: Fix[] = cited.map((tare) => ({
    title: `Use the tare of ${vessel?.text} written on ${tare.id}${tare.date ? `, ${tare.date}` : ''} (${tare.digits} ${tare.unit})`,
    edits: [{ span: before, text: `tare ${tare.digits} ${tare.unit} from ${tare.id}, ` }],
    // The vessel cannot have been used since: the only tare there is was taken on the day of this page.
    preferred: cited.length === 1 && tare.date !== undefined && tare.date === page.date?.text,
  }));
  // A slot that is there already only waits for its number.
  if (!(vessel?.target?.emptyTare && vessel.target.where.kind === 'page'))
    all.push(
      vessel
        ? { title: `Add the tare of ${vessel.text}`, edits: slot(source, page, weighing, vessel, unit), snippet: true }
        : { title: 'Add the tare', edits: [{ span: before, text: `tare \${1} ${unit}, ` }], snippet: true },
    );
  if (mayBeNet(values, weighing)) {
    all.push({
      title: 'The reading is net (balance zeroed on the vessel)',
      edits: weighing.readings.filter((r) => r.what === 'gross').map((r) => ({ span: r.word, text: 'net' })),
    });
  }
  const others = page.vessels.filter((v) => v.tares.length > 0 && v.key !== foldName(vessel?.text ?? ''));
  if (others.length > 0) {
    const choice = `\${1|${others.map((v) => inChoice(v.name)).join(',')}|}`;
    const after = gross.datum.span.end;
    all.push({
      title: 'Another vessel',
      edits: [
        vessel ? { span: vessel.span, text: choice } : { span: { start: after, end: after }, text: ` in ${choice}` },
      ],
      snippet: true,
    });
  }
  all.push({
    title: 'Not weighed empty',
    // biome-ignore lint/suspicious/noTemplateCurlyInString: a snippet stop
    edits: lineBelow(source, entry, 'accept tare-missing: ${1:reason}'),
    snippet: true,
  });
  return all;
}

/** A net that is claimed besides and differs says that the balance was not zeroed. */
function mayBeNet(values: Values, { entry, gross }: WeighingValue): boolean {
  const claimed = netClaimOf(values, entry)?.claim.quantity.number.value;
  return !claimed || claimed.eq(gross?.reading.datum.quantity.number.value ?? Number.NaN);
}

/** An empty slot for the tare: where the vessel is declared on the page, else on a line of its own above the first use. */
function slot(source: PageSource, page: Page, { entry }: WeighingValue, vessel: VesselRef, unit: string): Fix['edits'] {
  const declared: Vessel | undefined = vessel.target?.where.kind === 'page' ? vessel.target : undefined;
  if (declared) {
    const end = declared.entry.span.end;
    const last = source.text[end - 1];
    const join = last === ':' || last === ',' ? ' ' : ', ';
    return [{ span: { start: end, end }, text: `${join}tare \${1} ${unit}` }];
  }
  const key = foldName(vessel.text);
  const uses = page.mentions.filter((m) => m.what === 'vessel' && m.key === key).map((m) => m.span.start);
  const first = Math.min(entry.span.start, ...uses);
  const block = source.blocks.findLastIndex((b) => b.at <= first);
  return lineAbove(source, block, `vessel ${inSnippet(vessel.text)}: tare \${1} ${unit}`);
}
