/**
 * Columns of parcel layers that tell who owns the land and how to reach them. Told by the name of
 * the column alone, as counties abbreviate them in ten letters (OWNERNME1, PSTLADRESS, MAIL_CITY).
 */
const STEMS = (
  'owner ownr ownad ownname ownnm ownzip ownst owncity taxpay grantee grantor careof ' +
  'tenant lessee occupant mail postal pstl address addr adress situs phone telep ' +
  'contact lastname firstname surname fullname birth'
).split(' ');
const WORDS = new Set(
  (
    'own own1 own2 tel fax mobile ssn dob buyer seller lname fname attn person ' +
    'landlord resident'
  ).split(' '),
);
/** Found anywhere in a name that has no seams (LANDOWNER, SITEADRESS). */
const INSIDE = ['owner', 'taxpay', 'grantee', 'grantor', 'address', 'adress', 'phone', 'lastname'];

/**
 * Whether a column's name looks like a person's name or address. Words are told apart by case,
 * blanks and underscores. Examples: OWNER_NAME, MailAddr1 and taxpayer do; TOWN, FIELDNAME do not.
 */
export function isPersonalColumn(column: string): boolean {
  const words = column
    .slice(0, 200)
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .filter(Boolean);
  const joined = words.join('');
  return (
    words.some((word) => WORDS.has(word) || STEMS.some((stem) => word.startsWith(stem))) ||
    INSIDE.some((stem) => joined.includes(stem))
  );
}

export interface PersonalSplit {
  readonly kept: readonly (readonly [string, string | number])[];
  readonly dropped: readonly string[];
}

/** Attributes without the personal ones, and the names of those. */
export function splitPersonal(
  attributes: readonly (readonly [string, string | number])[],
): PersonalSplit {
  const isPersonal = ([column, value]: readonly [string, string | number]) =>
    isPersonalColumn(column) && !isOwnersSide(column, value);
  return {
    kept: attributes.filter((one) => !isPersonal(one)),
    dropped: attributes.filter(isPersonal).map(([column]) => column),
  };
}

/** Our own plans say of a structure whose side it stands on, which names nobody. */
function isOwnersSide(column: string, value: string | number): boolean {
  return column === 'ownedBy' && ['owner', 'neighbour', 'public'].includes(String(value));
}

/** Lines of a description that are labelled like a personal column ("Owner: ..."). */
export function splitPersonalLines(description: string): { kept: string; dropped: string[] } {
  const dropped: string[] = [];
  const kept = description.split('\n').filter((line) => {
    const label = /^\s{0,8}([^:=\t]{1,40})\s{0,4}[:=\t]/.exec(line)?.[1];
    if (label === undefined || !isPersonalColumn(label)) return true;
    dropped.push(label.trim());
    return false;
  });
  return { kept: kept.join('\n'), dropped };
}
