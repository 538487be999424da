/**
 * The grammar of one statement's facts. Total: no token is required and a stray one becomes a word, so an unfinished
 * line keeps all its facts. Chevrotain's recovery stays on as a net.
 */
import { EmbeddedActionsParser, type IToken } from 'chevrotain';
import { trim } from './lines';
import * as T from './tokens';
import type {
  ClaimGroup,
  Fact,
  Leg,
  NumberNode,
  Part,
  QuantityNode,
  Span,
  StruckNode,
  Term,
  Text,
  UnitNode,
  WordNode,
} from './tree';
import type { FactKey, Keyword } from './vocabulary';

/** A fact while its parts are being read. */
interface OpenFact {
  key: FactKey | undefined;
  keySpan: Span | undefined;
  readonly parts: Part[];
  readonly claims: ClaimGroup[];
  spectrum: boolean;
}

const NO_CLAIMS: readonly ClaimGroup[] = [];
const COEFFICIENT = /^(?:\d+(?:\.\d+)?|\d+\/\d+)$/;
const STATE = /^(.*?)\((s|l|g|aq)\)$/;

const over = (from: { readonly span: Span }, to: { readonly span: Span }): Span => ({
  start: from.span.start,
  end: to.span.end,
});

const joined = (words: readonly Text[]): Text => ({
  text: words.map((word) => word.text).join(' '),
  span: over(words[0]!, words.at(-1)!),
});

/** A term from its words: the coefficient before the name, the state after it. */
function readTerm(words: readonly Text[]): Term {
  const span = over(words[0]!, words.at(-1)!);
  const hasCoefficient = words.length > 1 && COEFFICIENT.test(words[0]!.text);
  const coefficient = hasCoefficient ? { coefficient: words[0]! } : {};
  const rest = hasCoefficient ? words.slice(1) : [...words];
  const last = rest.at(-1)!;
  const state = STATE.exec(last.text);
  if (state === null || (state[1] === '' && rest.length === 1)) {
    const name = joined(rest);
    return { span, ...coefficient, name, rest: name.text === '...' || name.text === '…' };
  }
  rest.pop();
  const bare = state[1]!;
  if (bare !== '') rest.push({ text: bare, span: { start: last.span.start, end: last.span.start + bare.length } });
  return { span, ...coefficient, name: joined(rest), state: state[2]!, rest: false };
}

function closeFact(fact: OpenFact, span: Span): Fact {
  const { key, keySpan, parts, spectrum } = fact;
  const claims = fact.claims.length === 0 ? NO_CLAIMS : fact.claims;
  if (key !== undefined && keySpan !== undefined) {
    return spectrum ? { span, key, keySpan, parts, claims, spectrum } : { span, key, keySpan, parts, claims };
  }
  return { span, parts, claims };
}

const newFact = (): OpenFact => ({
  key: undefined,
  keySpan: undefined,
  parts: [],
  claims: [],
  spectrum: false,
});

/** A number with its unit and what joins it to the number before. */
interface Piece {
  readonly operator: IToken | undefined;
  readonly number: NumberNode;
  readonly unit: UnitNode | undefined;
}

interface OpenQuantity {
  start: number;
  about: boolean;
  count: NumberNode | undefined;
  number: NumberNode;
  plusMinus: NumberNode | undefined;
  to: NumberNode | undefined;
  course: boolean;
  unit: UnitNode | undefined;
}

/** Takes a piece into an open quantity, if it fits: one factor, one uncertainty, one upper end, one unit. */
function joins(open: OpenQuantity, { operator, number, unit }: Piece): boolean {
  const kind = operator?.tokenType;
  if (open.unit !== undefined && open.unit.symbol !== unit?.symbol) return false;
  if (open.to !== undefined) return false;
  if (kind === T.Times) {
    if (open.count !== undefined || open.plusMinus !== undefined || open.unit !== undefined) return false;
    open.count = open.number;
    open.number = number;
  } else if (kind === T.PlusMinus) {
    if (open.plusMinus !== undefined) return false;
    open.plusMinus = number;
  } else {
    open.to = number;
    open.course = kind === T.To;
  }
  open.unit = unit;
  return true;
}

function closeQuantity(open: OpenQuantity): QuantityNode {
  const { start, about, count, number, plusMinus, to, course, unit } = open;
  const end = (unit ?? to ?? plusMinus ?? number).span.end;
  return {
    kind: 'quantity',
    span: { start, end },
    about,
    number,
    course,
    ...(count === undefined ? undefined : { count }),
    ...(plusMinus === undefined ? undefined : { plusMinus }),
    ...(to === undefined ? undefined : { to }),
    ...(unit === undefined ? undefined : { unit }),
  };
}

class FactParser extends EmbeddedActionsParser {
  /** Offset of the text that was lexed, in its block. */
  base = 0;

  constructor() {
    super(T.TOKENS, { recoveryEnabled: true, maxLookahead: 1, skipValidations: true });
    this.performSelfAnalysis();
  }

  private span(token: IToken): Span {
    const start = this.base + token.startOffset;
    return { start, end: start + token.image.length };
  }

  private word(token: IToken): WordNode {
    const image = token.image.trimEnd();
    const start = this.base + token.startOffset;
    return { kind: 'word', text: image, span: { start, end: start + image.length } };
  }

  private struck(token: IToken): StruckNode {
    return { kind: 'struck', text: token.image, span: this.span(token) };
  }

  private number(token: IToken): NumberNode {
    return { text: token.image, span: this.span(token), ...(token.payload as T.NumberRead) };
  }

  private unit(token: IToken): UnitNode {
    const { symbol, wrong } = token.payload as T.UnitRead;
    return { text: token.image, span: this.span(token), symbol, wrong };
  }

  /** `leg { ; leg }`: a conclusion ends its leg as `;` does. */
  readonly legs = this.RULE('legs', (): Leg[] => {
    const legs: Leg[] = [];
    let facts: Fact[] = [];
    const close = (conclusion?: Text) => {
      if (facts.length === 0 && conclusion === undefined) return;
      const first = facts[0] ?? conclusion!;
      const last = conclusion ?? facts.at(-1)!;
      const span = over(first, last);
      legs.push(conclusion === undefined ? { span, facts } : { span, facts, conclusion });
      facts = [];
    };
    this.MANY(() => {
      this.OR([
        { ALT: () => facts.push(this.SUBRULE(this.fact)) },
        { ALT: () => facts.push(this.SUBRULE(this.equation)) },
        { ALT: () => this.CONSUME(T.Comma) },
        {
          ALT: () => {
            this.CONSUME(T.Semicolon);
            this.ACTION(close);
          },
        },
        {
          ALT: () => {
            const token = this.CONSUME(T.Conclusion);
            this.ACTION(() => close(this.conclusion(token)));
          },
        },
        { ALT: () => this.CONSUME(T.ClaimComma) },
        { ALT: () => this.CONSUME(T.ClaimClose) },
      ]);
    });
    this.ACTION(close);
    return legs;
  });

  private conclusion({ image, startOffset }: IToken): Text {
    const { start, end } = trim(image, '=>'.length, image.length);
    const at = this.base + startOffset;
    return { text: image.slice(start, end), span: { start: at + start, end: at + end } };
  }

  readonly fact = this.RULE('fact', (): Fact => {
    const fact = newFact();
    let start = -1;
    this.AT_LEAST_ONE(() => {
      const from = this.LA(1);
      this.ACTION(() => {
        if (start < 0) start = from.startOffset;
      });
      this.OR([
        { ALT: () => this.SUBRULE(this.part, { ARGS: [fact] }) },
        { ALT: () => this.SUBRULE(this.claims, { ARGS: [fact] }) },
      ]);
    });
    return this.ACTION(() => closeFact(fact, this.spanFrom(start)));
  });

  readonly claim = this.RULE('claim', (): Fact => {
    const fact = newFact();
    const start = this.LA(1);
    this.AT_LEAST_ONE(() => this.SUBRULE(this.part, { ARGS: [fact] }));
    return this.ACTION(() => closeFact(fact, this.spanFrom(start.startOffset)));
  });

  readonly claims = this.RULE('claims', (fact: OpenFact): void => {
    const open = this.CONSUME(T.ClaimOpen);
    const facts: Fact[] = [];
    let closed = false;
    this.MANY(() =>
      this.OR([{ ALT: () => facts.push(this.SUBRULE(this.claim)) }, { ALT: () => this.CONSUME(T.ClaimComma) }]),
    );
    this.OPTION(() => {
      this.CONSUME(T.ClaimClose);
      closed = true;
    });
    this.ACTION(() => fact.claims.push({ span: this.spanFrom(open.startOffset), closed, facts }));
  });

  readonly part = this.RULE('part', (fact: OpenFact): void => {
    const stray = (token: IToken) => this.ACTION(() => fact.parts.push(this.word(token)));
    this.OR([
      { ALT: () => stray(this.CONSUME(T.Word)) },
      { ALT: () => this.SUBRULE(this.quantity, { ARGS: [fact] }) },
      {
        ALT: () => {
          const token = this.CONSUME(T.Key);
          this.ACTION(() => {
            fact.key = (token.payload as T.KeyRead).key;
            fact.keySpan = this.span(token);
          });
        },
      },
      {
        ALT: () => {
          const token = this.CONSUME(T.Struck);
          this.ACTION(() => fact.parts.push(this.struck(token)));
        },
      },
      {
        ALT: () => {
          const token = this.CONSUME(T.Spectrum);
          this.ACTION(() => this.spectrum(fact, token));
        },
      },
      { ALT: () => stray(this.CONSUME(T.Unit)) },
      { ALT: () => stray(this.CONSUME(T.Times)) },
      { ALT: () => stray(this.CONSUME(T.PlusMinus)) },
      { ALT: () => stray(this.CONSUME(T.Range)) },
      { ALT: () => stray(this.CONSUME(T.To)) },
    ]);
  });

  private spectrum(fact: OpenFact, token: IToken): void {
    const { key, length } = token.payload as T.KeyRead;
    const start = this.base + token.startOffset;
    const text = token.image.slice(length).trim();
    const end = start + token.image.length;
    fact.key = key;
    fact.keySpan = { start, end: start + length };
    fact.spectrum = true;
    if (text !== '') fact.parts.push({ kind: 'word', text, span: { start: end - text.length, end } });
  }

  /** Numbers with what joins them: `2 × 25 mL`, `25.00 ± 0.03 mL`, `133–135 °C`, `−78 °C to −90 °C`. */
  readonly quantity = this.RULE('quantity', (fact: OpenFact): void => {
    const pieces: Piece[] = [];
    let about: IToken | undefined;
    this.OPTION(() => {
      about = this.CONSUME(T.About);
    });
    this.SUBRULE(this.piece, { ARGS: [pieces, undefined] });
    this.MANY(() => {
      const operator = this.OR([
        { ALT: () => this.CONSUME(T.Times) },
        { ALT: () => this.CONSUME(T.PlusMinus) },
        { ALT: () => this.CONSUME(T.Range) },
        { ALT: () => this.CONSUME(T.To) },
      ]);
      this.SUBRULE2(this.piece, { ARGS: [pieces, operator] });
    });
    this.ACTION(() => this.assemble(pieces, about, fact.parts));
  });

  readonly piece = this.RULE('piece', (pieces: Piece[], operator: IToken | undefined): void => {
    const number = this.CONSUME(T.NumberToken);
    let unit: IToken | undefined;
    this.OPTION(() => {
      unit = this.CONSUME(T.Unit);
    });
    this.ACTION(() => pieces.push({ operator, number: this.number(number), unit: unit && this.unit(unit) }));
  });

  /** Joins pieces to quantities; an operator between pieces that do not fit together is a word. */
  private assemble(pieces: readonly Piece[], about: IToken | undefined, parts: Part[]): void {
    let open: OpenQuantity | undefined;
    for (const piece of pieces) {
      if (open !== undefined && joins(open, piece)) continue;
      if (open !== undefined) parts.push(closeQuantity(open));
      if (piece.operator !== undefined) parts.push(this.word(piece.operator));
      const first = open === undefined ? about : undefined;
      open = {
        start: first === undefined ? piece.number.span.start : this.span(first).start,
        about: first !== undefined,
        count: undefined,
        number: piece.number,
        plusMinus: undefined,
        to: undefined,
        course: false,
        unit: piece.unit,
      };
    }
    if (open !== undefined) parts.push(closeQuantity(open));
  }

  /** Only the words of an equation have tokens of their own, so that `2` is a coefficient and `+` joins terms. */
  readonly equation = this.RULE('equation', (): Fact => {
    const sides: Term[][] = [[], []];
    const parts: Part[] = [];
    let words: Text[] = [];
    let arrow: Text | undefined;
    const start = this.LA(1).startOffset;
    const closeTerm = () => {
      if (words.length > 0) sides[arrow === undefined ? 0 : 1]!.push(readTerm(words));
      words = [];
    };
    this.AT_LEAST_ONE(() =>
      this.OR([
        {
          ALT: () => {
            const token = this.CONSUME(T.TermWord);
            this.ACTION(() => words.push(this.text(token)));
          },
        },
        {
          ALT: () => {
            const token = this.CONSUME(T.TermStruck);
            this.ACTION(() => parts.push(this.struck(token)));
          },
        },
        {
          ALT: () => {
            this.CONSUME(T.Plus);
            this.ACTION(closeTerm);
          },
        },
        {
          ALT: () => {
            const token = this.CONSUME(T.Arrow);
            this.ACTION(() => {
              if (arrow !== undefined) words.push(this.text(token));
              else {
                closeTerm();
                arrow = this.text(token);
              }
            });
          },
        },
      ]),
    );
    return this.ACTION(() => {
      closeTerm();
      const span = this.spanFrom(start);
      const [left, right] = sides as [Term[], Term[]];
      const equation = arrow === undefined ? {} : { equation: { span, left, arrow, right } };
      return { span, parts, claims: NO_CLAIMS, ...equation };
    });
  });

  private text(token: IToken): Text {
    return { text: token.image, span: this.span(token) };
  }

  /** From an offset in the lexed text to the end of the last token that was consumed. */
  private spanFrom(start: number): Span {
    const last = this.LA(0);
    return { start: this.base + start, end: this.base + last.startOffset + last.image.trimEnd().length };
  }
}

const parser = new FactParser();

/** The legs of a statement's body: `text` is what stands after the colon, which is at `base - 1` in its block. */
export function parseFacts(text: string, keyword: Keyword, base: number): readonly Leg[] {
  parser.input = T.tokenize(text, keyword);
  parser.base = base;
  const legs = parser.legs();
  parser.input = [];
  return legs;
}
