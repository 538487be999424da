import { foldName } from '../../../grammar/names';
import { matterOf, substancesOf } from '../../compute/contents';
import { groupsOf, identityOf } from '../../compute/reactive-groups';
import type { ChargeValue } from '../../compute/values';
import type { Material, Substance } from '../../model/page';
import { materialKey } from '../../model/scope';
import type { Matter } from '../../model/streams';
import { type Found, type RuleContext, rule } from '../rule';
import { oneOf, streamOf } from '../streams';
import { inChoice, lineBelow, sentences } from '../wording';

/** What nobody wants to lose sight of, said first. */
const WATCHED: readonly Matter[] = [
  'mercury',
  'heavy metals',
  'cyanides',
  'azides',
  'halogenated organics',
  'oxidisers',
];
/** Of flammable or harmful liquids only what was there in bulk. */
const BULK: ReadonlySet<string> = new Set(['solvent', 'wash', 'eluent', 'quench']);
const PASSED: ReadonlySet<string> = new Set(['atmosphere', 'internal standard']);
const EVERYTHING = /\b(?:all|everything|everything else|the rest|reaction mixture|whole batch)\b/i;

export default rule({
  code: 'waste-unrouted',
  family: 'ledger',
  severity: 'information',
  fixable: 'sometimes',
  title: 'Something charged went nowhere on the page',
  why: 'On a page that says where its waste went, halogenated matter, metals, cyanides, azides, oxidisers and hazardous solvents should be found again: named in a waste line, a product, a recovered or a sample line, or taken by one of the streams that the page uses. What the equation uses up is not asked for; a metal is, unless a product holds it.',
  help: 'Add the waste line that is missing, or name the substance in the one it went to.',
  examples: [
    {
      name: 'the chlorinated solvent is in no line',
      wrong: `experiment TB-521: Extraction
date: 2026-04-09
author: MK

charge dichloromethane: 60 mL, wash
       ^^^^^^^^^^^^^^^ waste-unrouted: halogenated
waste aqueous base: 60 mL washes
`,
      right: `experiment TB-521: Extraction
date: 2026-04-09
author: MK

charge dichloromethane: 60 mL, wash
waste aqueous base: 60 mL washes
waste halogenated organic: 60 mL dichloromethane
`,
      fixed: `experiment TB-521: Extraction
date: 2026-04-09
author: MK

charge dichloromethane: 60 mL, wash
waste aqueous base: 60 mL washes
waste halogenated organic: dichloromethane
`,
    },
    {
      name: 'near miss: an organic stream takes the ether, the reaction takes the bromide',
      right: `experiment TB-522: Grignard
date: 2026-04-09
author: MK

reaction R1: bromobenzene + magnesium -> phenylmagnesium bromide
charge bromobenzene: 1.57 g, limiting
charge magnesium: 0.26 g
charge diethyl ether: 20 mL, solvent
waste non-halogenated organic: 40 mL ether
`,
    },
    {
      name: 'near miss: a page without any waste line',
      right: `experiment TB-523: Stain
date: 2026-04-09
author: MK

charge potassium dichromate: 0.50 g
charge chloroform: 20 mL, solvent
`,
    },
  ],
  sources: ['common practice, no source'],
  *check(context) {
    const { values, page } = context;
    if (values.wastes.length === 0) return;
    if (values.wastes.some(({ waste }) => EVERYTHING.test(waste.text.text))) return;
    const named = namedIn(context);
    const streams = values.wastes.map(({ waste }) => streamOf(context.world, waste.stream.text));
    const seen = new Set<string>();
    for (const value of values.charges) {
      const { material, charge } = value;
      if (!material || seen.has(materialKey(material)) || value.unlimited) continue;
      seen.add(materialKey(material));
      if (charge.roles.some(({ role }) => PASSED.has(role)) || isNamed(material, named)) continue;
      const kind = kindOf(value, context);
      // A stream that nobody declared may take anything.
      if (!kind || streams.some((stream) => !stream || stream.takes.length === 0 || stream.takes.includes(kind)))
        continue;
      yield found(value, kind, context, page.wastes.at(-1)!.entry);
    }
  },
});

function namedIn({ values, page }: RuleContext): ReadonlySet<string> {
  const materials = [
    ...page.wastes.flatMap(({ contents }) => contents.map(({ name }) => name.target)),
    ...values.products.map(({ product }) => product.name.target),
    ...values.recovered.map(({ recovered }) => recovered.name.target),
    ...page.samples.map(({ name }) => name?.target),
    ...page.neutralisations.map(({ what }) => what.target),
  ].filter((target) => target !== undefined);
  const words = values.wastes.flatMap(({ contents }) => contents.map(({ name }) => foldName(name)));
  return new Set([...materials.flatMap((m) => [m, ...substancesOf(m)].map(materialKey)), ...words]);
}

const isNamed = (material: Material, named: ReadonlySet<string>): boolean =>
  [material, ...substancesOf(material)].some((m) => named.has(materialKey(m)) || named.has(m.key));

/** The kind for which a place is asked; undefined for what may go without a word. */
function kindOf(value: ChargeValue, context: RuleContext): Matter | undefined {
  const { charge, material, term } = value;
  const substances = substancesOf(material!);
  const matter = new Set(substances.flatMap((s) => [...matterOf(groupsOf(s))]));
  const watched = WATCHED.find((kind) => matter.has(kind));
  if (watched === 'heavy metals' || watched === 'mercury') return metalKept(substances, context) ? undefined : watched;
  if (term) return undefined;
  if (watched) return watched;
  const bulk = charge.roles.some(({ role }) => BULK.has(role));
  const hazardous = substances.some((s) => s.hazards.length > 0 && s.state === 'liquid');
  return bulk && hazardous && matter.has('non-halogenated organics') ? 'non-halogenated organics' : undefined;
}

/** A complex keeps its metal. */
function metalKept(substances: readonly Substance[], { values }: RuleContext): boolean {
  const here = new Set(substances.flatMap((s) => identityOf(s).elements.filter((e) => METALS.has(e))));
  return values.products.some(({ product: { name } }) => {
    const target = name.target;
    return target?.kind === 'substance' && identityOf(target).elements.some((element) => here.has(element));
  });
}

const METALS: ReadonlySet<string> = new Set(
  'Ag As Ba Cd Co Cr Cu Hg Mn Ni Os Pb Pd Pt Rh Ru Sb Se Sn Te Tl Zn'.split(' '),
);

function found(
  { charge }: ChargeValue,
  kind: Matter,
  { source }: RuleContext,
  last: Parameters<typeof lineBelow>[1],
): Found {
  const name = charge.name.text;
  const stream = USUAL[kind] ?? kind;
  return {
    span: charge.name.span,
    block: charge.entry.block,
    message: sentences(
      `${name} is ${oneOf(kind)}; no waste, product, recovered or sample line takes it.`,
      'Write where it went.',
    ),
    fixes: [
      {
        title: `Add a line: waste ${stream}: ${name}`,
        edits: lineBelow(source, last, `waste \${1|${inChoice(stream)},other|}: \${2}${name}`),
        snippet: true,
      },
    ],
  };
}

const USUAL: { readonly [kind in Matter]?: string } = {
  'halogenated organics': 'halogenated organic',
  'non-halogenated organics': 'non-halogenated organic',
  'heavy metals': 'heavy metal',
  oxidisers: 'oxidiser',
  cyanides: 'cyanide',
  azides: 'azide',
};
