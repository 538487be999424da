/** `tarebook explain CODE` and `tarebook rules`: the rules in words. */
import { RULES } from '../rules';
import { rulePage } from '../rules/page';
import { padEnd } from './cells';
import { didYouMean } from './suggest';
import { type Terminal, UsageError } from './terminal';

export function explain(code: string, terminal: Terminal): void {
  const rule = RULES.find((candidate) => candidate.code === code);
  const hint = didYouMean(
    code,
    RULES.map((candidate) => candidate.code),
  );
  if (!rule) throw new UsageError(`unknown rule "${code}"${hint}; "tarebook rules" lists all`);
  terminal.write(rulePage(rule));
}

/** One line a rule, by family: code, default severity, what is wrong. */
export function rules(terminal: Terminal): void {
  const width = Math.max(...RULES.map((rule) => rule.code.length));
  const families = [...new Set(RULES.map((rule) => rule.family))];
  const blocks = families.map((family) => {
    const lines = RULES.filter((rule) => rule.family === family).map(
      (rule) => `  ${padEnd(rule.code, width)}  ${padEnd(rule.severity, 'information'.length)}  ${rule.title}`,
    );
    return [family, ...lines, ''].join('\n');
  });
  terminal.write(blocks.join('\n'));
}
