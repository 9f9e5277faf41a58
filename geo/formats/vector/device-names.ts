/** Letters that do not fall apart into a plain one and its accent. */
const PLAIN: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  Æ: 'AE',
  ø: 'o',
  Ø: 'O',
  ł: 'l',
  Ł: 'L',
  đ: 'd',
  Đ: 'D',
  '–': '-',
  '—': '-',
  '‘': "'",
  '’': "'",
};

/**
 * Names that old handheld receivers take: ASCII, at most `most` characters, no two alike (trade
 * notes, section 4: 10 to 12). A second of the same beginning ends in its number.
 * Example: "Böhm field north" and "Böhm field south" with 10 give "Bohm field" and "Bohm fiel2".
 */
export function deviceNames(names: readonly string[], most: number): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    const whole = asciiName(name) || 'unnamed';
    let made = whole.slice(0, most).trim();
    for (let n = 2; taken.has(made.toLowerCase()); n++) {
      const number = String(n);
      made = `${whole.slice(0, most - number.length).trim()}${number}`;
    }
    taken.add(made.toLowerCase());
    return made;
  });
}

function asciiName(name: string): string {
  return name
    .replace(/[^\x20-\x7e]/gu, (letter) => PLAIN[letter] ?? letter)
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/[^\x20-\x7e]/gu, '?')
    .trim();
}
