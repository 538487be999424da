import type { Content } from '../../compute/contents';
import { type Matter, refusedBy, type Stream } from '../../model/streams';
import { rule } from '../rule';
import { oneOf, placeOf, streamOf, WHO_DECIDES } from '../streams';
import { sentences } from '../wording';

/** What is said first where a substance is several. */
const FIRST: readonly Matter[] = ['azides', 'cyanides', 'mercury', 'water-reactives', 'oxidisers', 'heavy metals'];

export default rule({
  code: 'waste-stream-mismatch',
  family: 'ledger',
  severity: 'warning',
  fixable: 'never',
  title: 'A stream does not take what was put into it',
  why: 'What a stream takes is the site’s own list: a register says `waste STREAM: takes …, not …`; for the usual names a stock list stands in. Halogenated matter in a non-halogenated stream spoils the whole container for burning, metals and oxidisers do not belong into organic or plain aqueous streams, cyanides and azides go alone. Only what the line names is judged; a stream that nobody declared is not.',
  help: 'Say what went where as it was. If the wrong container was used, tell whoever is responsible for it before anything is added. If the site’s list is another, declare the stream in a register.',
  examples: [
    {
      name: 'halogenated solvent in the non-halogenated stream',
      wrong: `experiment TB-501: Extraction
date: 2026-04-02
author: MK

waste non-halogenated organic: 150 mL ether and dichloromethane
                                                ^^^^^^^^^^^^^^^ waste-stream-mismatch: a halogenated organic
`,
      right: `experiment TB-501: Extraction
date: 2026-04-02
author: MK

waste halogenated organic: 150 mL ether and dichloromethane
`,
    },
    {
      name: 'a stream of the site',
      files: { 'streams.tare': 'waste red can: takes organic solvents, not metals, not azides\n' },
      wrong: `experiment TB-502: Click
date: 2026-04-02
author: MK

waste red can: 40 mL dichloromethane with copper(II) sulfate
                                          ^^^^^^^^^^^^^^^^^^ waste-stream-mismatch: red can
`,
    },
    {
      name: 'near miss: what is gone is not in it, and a salt is no halogenated organic',
      right: `experiment TB-503: Work-up
date: 2026-04-02
author: MK

waste non-halogenated organic: 80 mL ethyl acetate, free of dichloromethane
waste aqueous base: 60 mL washes, sodium azide destroyed with nitrite as the site prescribes
waste aqueous acid: 90 mL acid washes with triethylamine hydrochloride and trifluoroacetic acid
waste bucket under the bench: 20 mL dichloromethane
`,
    },
  ],
  sources: ['site rules; the stock list is common practice, no source'],
  *check({ values, world }) {
    for (const { waste, contents } of values.wastes) {
      const stream = streamOf(world, waste.stream.text);
      if (!stream) continue;
      const refused = refusedBy(stream);
      for (const content of contents) {
        const kinds = [...content.matter].filter((kind) => refused.has(kind) && !isAnAcidThere(kind, content, stream));
        const kind = FIRST.find((first) => kinds.includes(first)) ?? kinds[0];
        if (!kind) continue;
        yield {
          span: placeOf(waste, content),
          block: waste.entry.block,
          message: sentences(
            `${content.name} is ${oneOf(kind)}; "${waste.stream.text}" takes no ${kind}.`,
            'Name the stream that takes it.',
            WHO_DECIDES,
          ),
        };
      }
    }
  },
});

/** Trifluoroacetic acid in a stream of acids, unless that says no to halogens. */
const isAnAcidThere = (kind: Matter, { matter }: Content, { takes, not }: Stream): boolean =>
  kind === 'halogenated organics' && matter.has('acids') && takes.includes('acids') && !not.includes(kind);
