/** The one date of everything in a zip: the same input gives the same bytes. Local, as zips count. */
export const ZIP_DATE = new Date(2000, 0, 1);
