import { describe, expect, test } from 'vitest';
import { parse } from '../../../grammar/parse';
import { agrees, digestOf, isDigest, normalised, shortDigest } from '../../../server/model/digest';
import { notebook, uriOf } from '../../kit/notebook';

// NIST, Cryptographic Standards and Guidelines, example values for FIPS 180-4: SHA-256 of "abc" and of 448 bits; of the
// empty message and of a million times "a" from the Secure Hash Algorithm Validation System and FIPS 180-2, B.3.
test.each([
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  ],
  ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ['a'.repeat(1_000_000), 'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0'],
])('SHA-256, published vector %#', (message, digest) => {
  expect(digestOf(message)).toBe(digest);
});

describe('what an editor does by itself changes no digest', () => {
  const TEXT = 'experiment TB-1: Å\ncharge water: 5 mL\n\n09:40 Stirred.';
  test.each([
    ['the line ends of Windows', TEXT.replaceAll('\n', '\r\n')],
    ['those of old machines', TEXT.replaceAll('\n', '\r')],
    ['a line end at the end', `${TEXT}\n\n`],
    ['blanks at line ends', TEXT.replaceAll('\n', ' \t\n')],
    ['a byte-order mark', `\uFEFF${TEXT}`],
    ['a letter taken apart', TEXT.normalize('NFD')],
  ])('%s', (_, text) => {
    expect(digestOf(text)).toBe(digestOf(TEXT));
  });

  test.each([
    ['a digit', TEXT.replace('5', '6')],
    ['a blank line taken out', TEXT.replace('\n\n', '\n')],
    ['two blanks for one inside a line', TEXT.replace('charge water', 'charge  water')],
    ['an indent', TEXT.replace('09:40', ' 09:40')],
    ['a letter in another case', TEXT.replace('Stirred', 'stirred')],
  ])('but %s does', (_, text) => {
    expect(digestOf(text)).not.toBe(digestOf(TEXT));
  });

  test('normalising twice is normalising once', () => {
    for (const text of [TEXT, `${TEXT} \r\n\r`, '\uFEFF', ' \n \n'])
      expect(normalised(normalised(text))).toBe(normalised(text));
  });
});

test('a digest may be written with 8 to 64 digits, in any case', () => {
  const digest = digestOf('abc');
  expect(shortDigest(digest)).toBe('ba7816bf8f01cfea');
  expect(['ba7816bf', 'BA7816BF8F01CFEA', digest].map((d) => isDigest(d) && agrees(d, digest))).toEqual([
    true,
    true,
    true,
  ]);
  expect(['ba7816b', 'soon', '', `${digest}0`].map(isDigest)).toEqual([false, false, false, false]);
  expect(agrees('ba7816be', digest)).toBe(false);
});

describe('a signed page', () => {
  const page = 'experiment TB-1: a\ndate: 2026-03-04\nauthor: MK\nnote: 7 g\nsigned: MK, 2026-03-04 17:20';
  const signed = `${page}, digest ${shortDigest(digestOf(page))}\n`;
  const found = (text: string) =>
    notebook({ 'a.tare': text })
      .snapshot(uriOf('a.tare'))
      .page(parse(text).pages.length - 1)
      .findings.map(({ code }) => code);

  test.each([
    ['as it was signed', signed],
    ['saved with other line ends', signed.replaceAll('\n', '\r\n')],
    ['without the last line end', signed.trimEnd()],
    ['with another page above', `note: head\nexperiment TB-0: b\ndate: 2026-03-03\nauthor: MK\n${signed}`],
    ['with lines below', `${signed}witnessed: JL, 2026-03-05\namend note: 7 g -> 8 g, slip, MK, 2026-03-05\n`],
    ['with the whole digest', signed.replace(/digest .*/, `digest ${digestOf(page)}`)],
  ])('%s is quiet', (_, text) => {
    expect(found(text)).toEqual([]);
  });

  test('every character above the signature counts', () => {
    for (let i = 'experiment TB-1'.length; i < page.length; i++) {
      if (/\s/.test(page[i]!) || /\s/.test(page[i + 1] ?? 'x')) continue;
      const text = `${signed.slice(0, i)}${page[i] === 'x' ? 'y' : 'x'}${signed.slice(i + 1)}`;
      if (!/^signed: /m.test(text)) continue;
      expect(found(text), text).toContain('changed-after-signing');
    }
  });
});
