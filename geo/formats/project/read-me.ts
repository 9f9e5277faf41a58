/** What whoever unzips a project finds beside it. */
export const readMe = `A site plan, saved by Assart. Any mapping program reads these files:

plan.geojson          everything drawn: GeoJSON, longitude and latitude (WGS 84)
tables/features.csv   the same as a table, with acres and feet
rasters/*.tif         the ground (heights in meters) and aerial photos, as GeoTIFF
settings.json         site name, settings, rain and wind, and what is known of each raster

To open the plan in Assart again, keep the files together as one zip and drop it on the page.
`;
