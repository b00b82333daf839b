/** Rows by a key, each group in the order given and the groups in the order of their first row; a row without a key is left out. */
export function grouped<Row, Key>(rows: Iterable<Row>, keyOf: (row: Row) => Key | null): Map<Key, Row[]> {
  const groups = new Map<Key, Row[]>();
  for (const row of rows) {
    const key = keyOf(row);
    if (key === null) continue;
    const group = groups.get(key);
    if (group) group.push(row);
    else groups.set(key, [row]);
  }
  return groups;
}
