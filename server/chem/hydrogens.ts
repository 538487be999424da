/** The hydrogens that a line of a proton spectrum counts: `δ 7.70 (d, J = 16.0 Hz, 1H), 3.81 (s, 3H)`. */

export interface CountedHydrogens {
  /** As written: `1H`, `2–3H`, in order. */
  readonly parts: readonly string[];
  /** Sum of the integrals; of a range, its lower and upper end. */
  readonly least: number;
  readonly most: number;
  /** Why the sum proves nothing: a solvent or an impurity is listed, an isomer, a signal without an integral. */
  readonly doubt?: string;
}

const INTEGRAL = /(?<![\w.′'’–-])(?:(\d+)\s?[×x]\s?)?(\d+(?:\.\d+)?)(?:\s?[–-]\s?(\d+(?:\.\d+)?))?\s?H(?![\w′'’(–-])/;
/** Words of signals that are not the substance's alone, or of sums that no integral gives. */
const FOREIGN =
  /\b(?:solvent|residual|impurit\w*|water|H2O|HDO|HOD|grease|CHCl3|CH2Cl2|DCM|EtOAc|ethyl acetate|acetone|hexanes?|toluene|TMS|standard|minor|major|rotamers?|isomers?|diastereo\w*|tautomers?|mixture|conformers?|each|overlap\w*|exchang\w*|not observed|partially|obscured|missing)\b/i;
const MULTIPLET = /^\s*(?:br\.?\s?|app\.?\s?)*(?:s|d|t|q|p|m|quint|quin|sext|sept|hept|[dtqsp]{2,4}m?)\b/;
const LABILE = /\b(?:OH|NH2?|NH3|SH|COOH|CO2H|CONH2?)\b/;

/** @returns undefined for a line without any integral */
export function countHydrogens(text: string): CountedHydrogens | undefined {
  const groups = topGroups(text);
  let doubt = FOREIGN.exec(text)?.[0];
  const found = groups.flatMap((group) => {
    const match = INTEGRAL.exec(group);
    if (!match && MULTIPLET.test(group) && !LABILE.test(group)) doubt ??= `a signal without an integral, (${group})`;
    return match ? [match] : [];
  });
  const matches = found.length > 0 ? found : [...text.matchAll(new RegExp(INTEGRAL, 'g'))];
  if (matches.length === 0) return undefined;
  let least = 0;
  let most = 0;
  for (const [, times, from, to] of matches) {
    const n = Number(times ?? 1);
    least += n * Number(from);
    most += n * Number(to ?? from);
  }
  return { parts: matches.map(([written]) => written), least, most, ...(doubt !== undefined && { doubt }) };
}

/** What stands in round brackets, those inside left out. */
function topGroups(text: string): string[] {
  const groups: string[] = [];
  let depth = 0;
  let group = '';
  for (const char of text) {
    if (char === '(') {
      if (depth === 0) group = '';
      depth++;
    } else if (char === ')' && depth > 0) {
      depth--;
      if (depth === 0) groups.push(group);
    } else if (depth === 1) group += char;
  }
  return groups;
}
