/** What a stage of a product says about how pure it is. */
import type { Product } from '../model/page';

/** Whoever writes one of these claims a pure substance. */
const PURE: ReadonlySet<string> = new Set([
  'recrystallised',
  'distilled',
  'chromatographed',
  'sublimed',
  'purified',
  'pure',
]);
/** Solvent and by-products are to be expected. */
const RAW: ReadonlySet<string> = new Set([
  'crude',
  'washed',
  'precipitated',
  'triturated',
  'filtered',
  'extracted',
  'isolated',
]);

export type Grade = 'pure' | 'raw' | 'unsaid';

export function gradeOf({ stage, entry }: Product): Grade {
  // `crude, dried` is still crude.
  if (/\bcrude\b|\bwet\b|\bmoist\b/.test(entry.text)) return 'raw';
  if (!stage) return 'unsaid';
  return PURE.has(stage.text) ? 'pure' : RAW.has(stage.text) ? 'raw' : 'unsaid';
}
