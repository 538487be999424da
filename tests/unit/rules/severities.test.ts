import { expect, test } from 'vitest';
import { RULES } from '../../../server/rules';

/** No rule is an error for what is merely missing: an error means that two written things cannot both be right. */
const EXPECTED = {
  error: [
    'number-format',
    'unit-missing',
    'unit-kind',
    'gross-below-tare',
    'net-negative',
    'net-mismatch',
    'id-duplicate',
  ],
  warning: ['unit-unknown', 'range-reversed', 'tare-missing', 'gross-missing', 'over-capacity', 'time-runs-backwards'],
  information: ['below-minimum-weight', 'tare-drift', 'not-constant-mass', 'reference-unresolved'],
  hint: [
    ...['statement-incomplete', 'fact-unknown', 'keyword-misspelt', 'statement-without-colon', 'unit-spelling'],
    ...['date-format', 'readability-mismatch', 'page-head-missing', 'accept-unused'],
  ],
};

test.each(Object.entries(EXPECTED))('%s is as loud as it should be', (severity, codes) => {
  for (const code of codes) {
    expect({ code, severity: RULES.find((rule) => rule.code === code)?.severity }).toEqual({ code, severity });
  }
});
