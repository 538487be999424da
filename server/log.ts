/**
 * What may be said about the tool's own work. Imports nothing of ours.
 *
 * The fields of each event are fixed here, so that no line can carry text, names, numbers or titles from a notebook.
 * Files are named by their path relative to the workspace.
 */
export interface Events {
  readonly started: { readonly version: string; readonly node?: string };
  readonly settings: { readonly rules: number; readonly from: string };
  readonly register: { readonly file: string; readonly state: 'read' | 'unreadable' };
  readonly analysed: {
    readonly file: string;
    readonly pages: number;
    readonly findings: number;
    readonly ms: number;
    readonly reusedPages?: number;
    readonly reusedBlocks?: number;
  };
  readonly published: { readonly file: string; readonly version: number; readonly findings: number };
  readonly cancelled: { readonly request: string };
  readonly slow: { readonly what: string; readonly ms: number };
  readonly 'rule-failed': { readonly rule: string; readonly error: string };
  readonly 'fix-unproven': { readonly rule: string; readonly why: string };
  readonly 'request-failed': { readonly request: string; readonly error: string };
}

export type EventName = keyof Events;

/** Takes one event; where it goes (the client's log, standard error, nowhere) is the edge's matter. */
export type Logger = <E extends EventName>(event: E, fields: Events[E]) => void;

export const silent: Logger = () => {};

/** One line: `analysed file=samples/ester.tare pages=2 findings=0 ms=12`. */
export function logLine<E extends EventName>(event: E, fields: Events[E]): string {
  const pairs = Object.entries(fields).map(([key, value]) => `${key}=${quote(String(value))}`);
  return [event, ...pairs].join(' ');
}

const quote = (value: string): string => (/^[^\s"=]+$/.test(value) ? value : JSON.stringify(value));

/**
 * The class of an error and the place in our own code it came from. The message of an error may quote a notebook,
 * so it stays out of the log.
 */
export function errorPlace(error: unknown): string {
  if (!(error instanceof Error)) return typeof error;
  const frame = error.stack?.split('\n').find((line) => /^\s+at /.test(line));
  const place = frame?.match(/([^\s/\\()]+:\d+:\d+)\)?$/)?.[1];
  return place ? `${error.name} at ${place}` : error.name;
}
