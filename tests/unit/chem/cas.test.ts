import { describe, expect, it } from 'vitest';
import { casCheck } from '../../../server/chem/cas';

// CAS, "Check Digit Verification of CAS Registry Numbers", takes 107-07-3 as its example (from memory):
// (7·1 + 0·2 + 7·3 + 0·4 + 1·5) = 33, check digit 3.
describe('casCheck', () => {
  it.each(['107-07-3', '7732-18-5', '64-17-5', '58-08-2', '123-51-3', '123-92-2', '64‑19‑7', ' 50-00-0 '])(
    '%s',
    (text) => expect(casCheck(text)).toBe('ok'),
  );
  it('says which check digit is asked for', () => {
    expect(casCheck('58-08-3')).toEqual({ expected: '58-08-2' });
    expect(casCheck('123-51-8')).toEqual({ expected: '123-51-3' });
  });
  it.each(['', 'water', '5808-2', '58-8-2', '1-08-2', '12345678-08-2', '58-08-22', '058-08-2'])(
    '%j is malformed',
    (text) => expect(casCheck(text)).toBe('malformed'),
  );
  it('finds every single wrong digit, and every swap of two neighbours before the check digit', () => {
    const right = '7732-18-5';
    for (let i = 1; i < right.length; i++) {
      if (right[i] === '-') continue;
      for (const digit of '0123456789') {
        if (digit === right[i]) continue;
        // The weight 5 and even weights miss a difference of 2 or 5 times the weight modulo 10.
        const weight = right.slice(i).replaceAll('-', '').length - 1 || 1;
        const missed = ((Number(digit) - Number(right[i])) * weight) % 10 === 0;
        const wrong = right.slice(0, i) + digit + right.slice(i + 1);
        expect(casCheck(wrong) === 'ok', wrong).toBe(missed);
      }
    }
    expect(casCheck('7372-18-5')).not.toBe('ok');
  });
});
