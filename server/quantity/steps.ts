/** Working in words: a held value as the steps that gave it, each with the numbers put in. */
import type { Held } from './held';
import { show } from './show';

/** `15.0 mL × 0.810 g/mL = 12.15 g`; a reading is shown as it was typed. */
export function step(held: Held): string {
  const right = filledIn(held);
  return right === undefined ? shown(held) : `${right} = ${show(held)}`;
}

/** The last step and those before it, in the order a reader works them; at most `limit`. */
export function steps(held: Held, limit = 8): string[] {
  const out: string[] = [];
  const seen = new Set<Held>();
  const walk = (h: Held): void => {
    if (seen.has(h) || h.working.formula === undefined) return;
    seen.add(h);
    for (const input of h.working.inputs) walk(input.held);
    out.push(step(h));
  };
  walk(held);
  return out.slice(-limit);
}

/** The right-hand side with numbers for symbols; undefined for a reading or an exact number. */
export function filledIn(held: Held): string | undefined {
  const { formula, inputs } = held.working;
  if (formula === undefined) return undefined;
  const bySymbol = new Map(inputs.map((input) => [input.symbol, input.held]));
  return formula
    .split(' ')
    .map((token) => {
      // `(R` is a bracket and a symbol, `n(limiting)` a symbol.
      const whole = bySymbol.get(token);
      if (whole) return shown(whole);
      const match = /^(\(*)(.*?)(\)*)$/u.exec(token);
      const value = match && bySymbol.get(match[2] ?? '');
      if (value) return `${match[1]}${shown(value)}${match[3]}`;
      return token === '·' ? '×' : token;
    })
    .join(' ');
}

/** A value as its reader knows it: as typed where it was typed. */
export function shown(held: Held): string {
  return held.working.written ?? show(held);
}
