/** What a page of a few lines says. */
import type { Material, NameRef, Page } from '../../../server/model/page';
import { notebook, uriOf } from '../../kit/notebook';

/** The page with these lines under its head; other files are registers or pages. */
export function pageOf(text: string, others: Readonly<Record<string, string>> = {}, head = ''): Page {
  const page = `${head}experiment X-1: test\ndate: 2026-03-02\nauthor: MK\n${text}\n`;
  return notebook({ 'page.tare': page, ...others })
    .snapshot(uriOf('page.tare'))
    .page(1).page;
}

/** What the last charge is of. */
export function resolved(text: string, others: Readonly<Record<string, string>> = {}, head = ''): NameRef {
  return pageOf(text, others, head).charges.at(-1)!.name;
}

export const whereOf = (material: Material | undefined): string => material?.where.kind ?? 'nowhere';
