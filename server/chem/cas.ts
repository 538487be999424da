/**
 * Checks a CAS registry number. The last digit is the sum of the others, each times its place counted from the right,
 * modulo 10 (CAS, "Check Digit Verification of CAS Registry Numbers").
 *
 * @returns `ok`, `malformed` when it has not the form of two to seven, two and one digit, or the number as it would
 * read with the check digit that its other digits ask for
 */
export function casCheck(text: string): 'ok' | 'malformed' | { readonly expected: string } {
  const found = /^([1-9]\d{1,6})[-‐‑–−](\d\d)[-‐‑–−](\d)$/.exec(text.trim());
  if (!found) return 'malformed';
  const [, first = '', second = '', check] = found;
  const digits = [...(first + second)].reverse();
  const sum = digits.reduce((total, digit, i) => total + (i + 1) * Number(digit), 0);
  return sum % 10 === Number(check) ? 'ok' : { expected: `${first}-${second}-${sum % 10}` };
}
