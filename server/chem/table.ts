/** Reads a table of our own: comma-separated, one header line, double quotes round cells that hold a comma. */
export function readTable<Column extends string>(text: string): readonly Readonly<Record<Column, string>>[] {
  const [head = [], ...rows] = text.split('\n').filter(Boolean).map(cells);
  return rows.map(
    (row) => Object.fromEntries(head.map((column, i) => [column, row[i] ?? ''])) as Record<Column, string>,
  );
}

function cells(line: string): string[] {
  if (!line.includes('"')) return line.split(',');
  return [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(([, quoted, bare]) =>
    quoted === undefined ? (bare ?? '') : quoted.replaceAll('""', '"'),
  );
}

/** A value worked out at the first call and kept, so that loading a module reads no table. */
export function lazy<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
