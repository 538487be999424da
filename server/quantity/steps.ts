/** Working in words: a held value as the steps that gave it, each with the numbers put in. */
import type { Held, Origin } from './held';
import { show } from './show';

/** What to say of where an input stands: `line 8`, `TB-009`, `handbook`; undefined where nobody asks. */
export type Places = (origin: Origin) => string | undefined;

const UNSAID: Places = () => undefined;

/** `15.0 mL × 0.810 g/mL (line 8) = 12.15 g`; a reading is shown as it was typed. */
export function step(held: Held, places = UNSAID): string {
  const right = filledIn(held, places);
  return right === undefined ? shown(held) : `${right} = ${show(held)}`;
}

/** The last step and those before it, in the order a reader works them; at most `limit`. */
export function steps(held: Held, limit = 8, places = UNSAID): string[] {
  return derived(held)
    .slice(-limit)
    .map((h) => step(h, places));
}

/** The value itself and everything worked out on the way to it, inputs first. */
function derived(held: Held): Held[] {
  const found: Held[] = [];
  const seen = new Set<Held>();
  const walk = (h: Held): void => {
    if (seen.has(h) || h.working.formula === undefined) return;
    seen.add(h);
    for (const input of h.working.inputs) walk(input.held);
    // Atomic weights times counts fill a line and tell nobody anything.
    if (h === held || h.kind !== 'molarMass') found.push(h);
  };
  walk(held);
  return found;
}

/** The right-hand side with numbers for symbols; undefined for a reading or an exact number. */
export function filledIn(held: Held, places = UNSAID): string | undefined {
  const { formula, inputs } = held.working;
  if (formula === undefined) return undefined;
  const bySymbol = new Map(inputs.map((input) => [input.symbol, input.held]));
  return formula
    .split(' ')
    .map((token) => {
      // `(R` is a bracket and a symbol, `n(limiting)` a symbol.
      const whole = bySymbol.has(token);
      const [, open = '', symbol = '', close = ''] = (!whole && /^(\(*)(.*?)(\)*)$/u.exec(token)) || ['', '', token];
      const input = bySymbol.get(symbol);
      if (!input) return token === '·' ? '×' : token;
      const place = input.working.origin && places(input.working.origin);
      return `${open}${shown(input)}${place ? ` (${place})` : ''}${close}`;
    })
    .join(' ');
}

/** A value as its reader knows it: as typed where it was typed. */
export function shown(held: Held): string {
  return held.working.written ?? show(held);
}
