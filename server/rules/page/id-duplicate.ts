import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'id-duplicate',
  family: 'page',
  severity: 'error',
  fixable: 'never',
  title: 'Two pages have the same ID',
  why: `The ID is how other pages, sample labels and reports name a page. Two pages under one ID cannot be told apart, and
\`from\` that ID means neither.`,
  help: 'Give one of the two pages another ID, before anything cites it.',
  examples: [
    {
      name: 'one ID in two files',
      wrong: `experiment TB-231: Second try
           ^^^^^^ id-duplicate: other.tare
The bath was too hot the first time.
`,
      files: {
        'other.tare': `experiment TB-231: First try
Too hot.
`,
      },
    },
    {
      name: 'near miss: IDs that differ in one letter',
      right: `experiment TB-232a: First portion
experiment TB-232b: Second portion
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ page, world, source }) {
    if (!page.id) return;
    const pages = world.page(page.id.text);
    if (pages.length < 2) return;
    const block = source.blocks.findIndex((b) => b.block.statement?.keyword === 'experiment');
    yield {
      span: page.id.span,
      block,
      message: sentences(
        `${pages.length} pages have the ID ${page.id.text}: ${[...new Set(pages.map((p) => fileName(p.uri)))].slice(0, 3).join(', ')}.`,
        'Give one of them another.',
      ),
      related: pages.map((p) => ({
        origin: { from: 'there' as const, where: p.id, uri: p.uri, page: p.id, start: 0, end: 0 },
        message: p.title || p.id,
      })),
    };
  },
});

/** Last part of an address, decoded where that is possible. */
function fileName(uri: string): string {
  const name = uri.slice(uri.lastIndexOf('/') + 1);
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
}
