"use strict";
/* exported pastedRows, pasteColumns */

// Turn what a spreadsheet puts on the clipboard into rows of cells: tabs between cells, a cell
// with a tab, a line break or a quote in it stands in quotes.
function pastedRows(text) {
  const rows = [[]];
  const cell = /("(?:[^"]|"")*"|[^\t\r\n]*)(\t|\r\n|\r|\n|$)/gy;
  for (;;) {
    const [, said, end] = cell.exec(text);
    const isQuoted = said.length > 1 && said.startsWith('"') && said.endsWith('"');
    rows.at(-1).push((isQuoted ? said.slice(1, -1).replaceAll('""', '"') : said).trim());
    if (!end || cell.lastIndex >= text.length) break;
    if (end !== "\t") rows.push([]);
  }
  return rows.filter((row) => row.some((each) => each));
}

// Which column each pasted cell goes into: by the names in its first row if they are ours, else
// from the cell chosen on. `titles` maps a name in small letters to a key.
function pasteColumns(rows, keys, from, titles) {
  const named = rows[0].map((each) => titles[each.toLowerCase()]);
  const isHead = rows.length > 1 && named.filter(Boolean).length > 1;
  if (isHead) return { keys: named, rows: rows.slice(1) };
  return { keys: keys.slice(keys.indexOf(from)), rows };
}
