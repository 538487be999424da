/** Where things went: a waste line with its stream, a neutralising with what it takes, the ledger on the first waste line. */

import type { LedgerValue, WasteValue } from '../../compute/ledger';
import type { GasValue, NeutralisationValue } from '../../compute/neutralise';
import { cautionsOf, groupName } from '../../compute/reactive-groups';
import { held, isHeld, total } from '../../quantity/held';
import { show } from '../../quantity/show';
import { streamOf, WHO_DECIDES } from '../../rules/streams';
import { type Desk, type Found, head, line, places, plainText, pointsAt, said, worked } from './desk';

const LISTED = 4;

export function wasteHover(desk: Desk): Found | undefined {
  const { values } = desk.result;
  const value = values.wastes.find(({ waste }) => pointsAt(desk, waste.entry.span));
  if (!value) return undefined;
  const { waste } = value;
  const content = value.contents.find(({ start, end }) =>
    pointsAt(desk, { start: waste.text.span.start + start, end: waste.text.span.start + end }),
  );
  if (content) {
    const groups = [...content.groups];
    const span = { start: waste.text.span.start + content.start, end: waste.text.span.start + content.end };
    return {
      span,
      lines: [
        `**${plainText(content.name)}** · in ${plainText(waste.stream.text)}`,
        groups.length > 0 ? `groups: ${groups.map(groupName).join('; ')}` : 'in none of the reactive groups',
        ...[...new Set(groups.flatMap(cautionsOf))]
          .slice(0, 3)
          .map(({ b, happens }) => `${b.slice(b.indexOf(':') + 1)}: ${happens}`),
        WHO_DECIDES,
      ],
    };
  }
  return {
    span: pointsAt(desk, head(waste.entry)) ? waste.entry.mark : waste.text.span,
    lines: wasteLines(desk, value),
  };
}

function wasteLines(desk: Desk, { waste, mass, volume, contents }: WasteValue): string[] {
  const { world, page, values } = desk.result;
  const stream = streamOf(world, waste.stream.text);
  const amount = isHeld(mass) ? show(mass, { u: true }) : isHeld(volume) ? show(volume) : undefined;
  const others = [
    ...new Set(world.wastes(waste.key).flatMap(({ id, name }) => (id === page.id?.text ? [] : [`${name} (${id})`]))),
  ];
  return said([
    `**${plainText(waste.stream.text)}** · waste${amount ? ` · **${amount}**` : ''}`,
    stream
      ? plainText(`${stream.says} (${stream.entry ? 'register' : 'stock list'})`)
      : 'not declared in a register: nothing is judged of it',
    ...(isHeld(mass)
      ? worked(mass, places(desk, waste.entry.span))
      : [`mass not computable: needs ${plainText(mass.what)}`]),
    contents.length > 0 && `names ${contents.map(({ name }) => plainText(name)).join(', ')}`,
    others.length > 0 &&
      `also went there: ${others.slice(0, LISTED).map(plainText).join(', ')}${others.length > LISTED ? ' …' : ''}`,
    ...(values.ledger ? ledgerLines(desk, values.ledger) : []),
  ]);
}

/** What the tests and measurements took, in one line. */
function usedLines({ used }: LedgerValue): string[] {
  const masses = used.flatMap(({ mass }) => held(mass) ?? []);
  const sum = total(masses, 'm');
  return sum ? [`tests and measurements took ${show(sum)}`] : [];
}

function ledgerLines(desk: Desk, ledger: LedgerValue): string[] {
  const { unaccounted, open } = ledger;
  if (isHeld(unaccounted)) {
    const negative = unaccounted.value.isNegative();
    return [
      '',
      `page: ${isHeld(ledger.in) ? show(ledger.in) : ''} in, ${isHeld(ledger.out) ? show(ledger.out) : ''} out, **${show(unaccounted, { u: true })}** ${negative ? 'more out than in' : 'not accounted for'}`,
      ...usedLines(ledger),
    ];
  }
  const lines = open.slice(0, LISTED).map(({ what, entry }) => `${plainText(what)} (line ${line(desk, entry.mark)})`);
  return ['', `page: balance open, no mass for ${lines.join(', ')}${open.length > LISTED ? ' …' : ''}`];
}

export function neutraliseHover(desk: Desk): Found | undefined {
  const value = desk.result.values.neutralisations.find(({ neutralisation }) =>
    pointsAt(desk, neutralisation.entry.span),
  );
  if (!value) return undefined;
  return { span: value.neutralisation.entry.mark, lines: neutraliseLines(desk, value) };
}

function neutraliseLines(desk: Desk, value: NeutralisationValue): string[] {
  const {
    neutralisation: n,
    reagent,
    there,
    certain,
    needed,
    neededMass,
    neededVolume,
    added,
    short,
    gas,
    heat,
  } = value;
  const where = places(desk, n.entry.span);
  const title = `**${plainText(n.what.text)}** · neutralised${n.with ? ` with ${plainText(n.with.text)}` : ''}`;
  if (!isHeld(there) || !isHeld(needed))
    return [title, `not computable: needs ${plainText(isHeld(there) ? 'a reagent' : there.what)}`];
  const kind = reagent?.kind === 'acid' ? 'base' : 'acid';
  const take = [neededMass, neededVolume].filter(isHeld).map((held) => show(held));
  const heatLine =
    heat &&
    `heat about ${show({ ...heat, kind: 'number' })} kJ (57 kJ/mol, strong acid with strong base): ice bath, slowly`;
  return said([
    title,
    `${kind}: ${certain ? '' : 'at most '}**${show(there)}** of protons`,
    ...worked(there, where, 2),
    `takes ${show(needed)}${take.length > 0 ? ` = **${take.join(' or ')}**` : ''} of ${plainText(n.with?.text ?? '')}`,
    isHeld(added) && `added ${show(added)}${short ? `, **${show(short)}** of protons short` : ', enough'}`,
    gas && gasLine(gas, certain),
    heatLine,
    `The usual caution: small portions, stirring, room above. ${WHO_DECIDES}`,
  ]);
}

const gasLine = ({ gas, toxic, volume, amount }: GasValue, certain: boolean): string =>
  `gas: ${certain ? '' : 'up to '}**${show(volume, { unit: 'L' })}** ${gas}${toxic ? ', toxic' : ''} (${show(amount)}, 20 °C, 101.325 kPa)`;
