import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { foldFormula, foldName } from '../../../grammar/names';

const same = (...names: string[]) => expect(new Set(names.map(foldName)).size, names.join(' = ')).toBe(1);
const differ = (...names: string[]) => expect(new Set(names.map(foldName)).size, names.join(' ≠ ')).toBe(names.length);

describe('foldName', () => {
  it('ignores case and runs of white space', () => {
    same('acetic acid', 'Acetic Acid', 'ACETIC  ACID', ' acetic\tacid ', 'acetic acid', 'acetic\u2009\nacid');
    same('Copper(II) Sulfate', 'copper(ii) sulfate');
    differ('acetic acid', 'aceticacid');
  });

  it('takes all hyphens and minus signs for one, yet keeps plus and minus apart', () => {
    same('1-butanol', '1‐butanol', '1‑butanol', '1–butanol', '1—butanol', '1−butanol', '1﹣butanol');
    same('(−)-menthol', '(-)-menthol', '(–)‑Menthol');
    differ('(+)-menthol', '(−)-menthol', '(±)-menthol', 'menthol');
  });

  it('takes all primes for one and a double prime for two', () => {
    same("N,N'-dicyclohexylcarbodiimide", 'N,N′-dicyclohexylcarbodiimide', 'N,N’-dicyclohexylcarbodiimide');
    same("2,2',2''-nitrilotriethanol", '2,2′,2″-nitrilotriethanol');
    differ("2,2'-bipyridine", '2,2-bipyridine');
  });

  it('takes all middle dots for one', () => same('BF3·OEt2', 'BF3⋅OEt2', 'BF3∙OEt2', 'BF3•OEt2', 'bf3·oet2'));

  it('leaves Greek letters as they are', () => {
    differ('α-pinene', 'alpha-pinene', 'β-pinene');
    same('β-Pinene', 'Β-PINENE');
    same('µ-oxo dimer', 'μ-oxo dimer');
  });

  it('compares composed and decomposed letters, and leaves out what nobody sees', () => {
    same('Hünig’s base', "Hu\u0308nig's base", 'HÜNIG‘S BASE');
    same('ethanol', 'etha\u00ADnol', '\uFEFFethanol', 'etha\u200Bnol');
  });

  it('keeps the letters that name isomers and positions', () => {
    differ('(R)-carvone', '(r)-carvone', '(S)-carvone', '(s)-carvone');
    differ('D-glucose', 'd-glucose', 'L-glucose', 'l-glucose');
    differ('N-methyl aniline', 'n-methyl aniline');
    differ('O-ethyl xanthate', 'o-ethyl xanthate');
    differ('(E)-stilbene', '(Z)-stilbene');
    differ('S-methyl thioacetate', 's-methyl thioacetate');
    same('p-Toluidine', 'p-toluidine');
    same('M-xylene', 'm-xylene');
  });

  it('keeps them inside a name too', () => {
    differ('N,N-dimethylformamide', 'n,n-dimethylformamide', 'N,n-dimethylformamide');
    same('N,N-Dimethylformamide', 'N,N-DIMETHYLFORMAMIDE');
    differ('(2R,3S)-tartrate', '(2r,3s)-tartrate', '(2S,3R)-tartrate');
    differ('(3aR,7aS)-indane', '(3ar,7as)-indane');
    differ('1-N-boc', '1-n-boc');
    differ('N,4-dimethylaniline', 'n,4-dimethylaniline');
    differ("N,N,N',N'-tetramethylethylenediamine", "n,n,n',n'-tetramethylethylenediamine");
    differ('tert-butyl (R)-lactate', 'tert-butyl (r)-lactate');
  });

  it('keeps no letter that belongs to a word', () => {
    same('TsOH', 'tsoh');
    same('DIBAL-H', 'dibal-h');
    same('Wilkinson catalyst', 'WILKINSON CATALYST');
    same('vitamin C', 'Vitamin c');
    same('poly(styrene)', 'Poly(Styrene)');
    same('(Trimethylsilyl)acetylene', '(trimethylsilyl)acetylene');
  });

  const letters = "aBcDeNnOoRrSsZzLlEp0123456789,-()[] '′’·•−–\tαΒμµςÅüİßéŉ\u0308\u0345\uD800\u00AD+±/*";
  const anyName = fc.oneof(
    fc.string({ unit: fc.constantFrom(...letters), maxLength: 30 }),
    fc.string({ unit: 'binary', maxLength: 30 }),
  );

  it('is total, and folding a key gives the key', () => {
    fc.assert(
      fc.property(anyName, (name) => {
        const key = foldName(name);
        expect(foldName(key)).toBe(key);
      }),
      { numRuns: 5000 },
    );
  });

  it('ignores case in words of two letters and more, with Greek ones', () => {
    const word = fc.stringMatching(/^[a-zäéα-ω]{2,8}$/).filter((w) => !/^(rs|sr|ez)$/.test(w));
    const name = fc
      .array(word, { minLength: 1, maxLength: 5 })
      .chain((words) =>
        fc
          .array(fc.constantFrom(' ', '-', ',', '(', ')-', ' 2-', "'"), { minLength: 5, maxLength: 5 })
          .map((glue) => words.map((w, i) => w + glue[i]).join('')),
      );
    fc.assert(
      fc.property(name, (n) => {
        expect(foldName(n.toUpperCase())).toBe(foldName(n));
      }),
      { numRuns: 2000 },
    );
  });

  it('answers the same on the short way as on the long way', () => {
    const ascii = fc.string({ unit: fc.constantFrom(..."aDNnORrSZEe12,-()[] '"), maxLength: 20 });
    // An invisible character changes nothing but the way that is taken.
    fc.assert(
      fc.property(ascii, (n) => {
        expect(foldName(`${n}\u200B`)).toBe(foldName(n));
      }),
      { numRuns: 5000 },
    );
  });
});

describe('foldFormula', () => {
  it('ignores blanks, subscripts, and which dot or minus was typed', () => {
    expect(foldFormula('CuSO₄ ⋅ 5 H₂O')).toBe('CuSO4·5H2O');
    expect(foldFormula('Cr2O7^2−')).toBe('Cr2O7^2-');
    expect(foldFormula('C₁₀H₁₆')).toBe('C10H16');
  });

  it('keeps case', () => {
    expect(foldFormula('Co')).not.toBe(foldFormula('CO'));
    expect(foldFormula('NaOH')).toBe('NaOH');
  });

  it('is total, and folding a key gives the key', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(foldFormula(foldFormula(text))).toBe(foldFormula(text));
      }),
    );
  });
});
