/**
 * Capabilities of invented services, laid out by the standards' own schemas: OGC 06-042 (WMS 1.3.0),
 * OGC 01-068r3 (WMS 1.1.1), OGC 07-057r7 (WMTS 1.0.0). `base` is where the maps are asked for.
 */

const escape = (text: string) => text.replace(/&/g, '&amp;');

export function wms130(base: string): string {
  return `<?xml version="1.0" encoding="UTF-8"?>
<WMS_Capabilities version="1.3.0" xmlns="http://www.opengis.net/wms" xmlns:xlink="http://www.w3.org/1999/xlink">
  <Service><Name>WMS</Name><Title>County photos</Title></Service>
  <Capability>
    <Request>
      <GetMap>
        <Format>image/png; mode=8bit</Format><Format>image/png</Format><Format>image/jpeg</Format>
        <DCPType><HTTP><Get><OnlineResource xlink:type="simple" xlink:href="${escape(base)}"/></Get></HTTP></DCPType>
      </GetMap>
    </Request>
    <Exception><Format>XML</Format></Exception>
    <Layer>
      <Title>All</Title>
      <CRS>EPSG:2264</CRS>
      <Layer>
        <Title>By year</Title><CRS>EPSG:3857</CRS>
        <EX_GeographicBoundingBox>
          <westBoundLongitude>-75.2</westBoundLongitude><eastBoundLongitude>-74.8</eastBoundLongitude>
          <southBoundLatitude>36.0</southBoundLatitude><northBoundLatitude>36.3</northBoundLatitude>
        </EX_GeographicBoundingBox>
        <Attribution><Title>Invented County</Title></Attribution>
        <Layer queryable="0"><Name>leaf_off</Name><Title>Leaf-off 2023 &amp; 2024</Title></Layer>
        <Layer opaque="1"><Name>leaf_on</Name><Title>Leaf-on</Title></Layer>
      </Layer>
      <Layer><Name>old_scan</Name><Title>Old scan</Title><CRS>EPSG:4326</CRS></Layer>
      <Layer><Name>crs84</Name><Title>Same</Title><CRS>CRS:84</CRS><CRS>EPSG:4326</CRS></Layer>
      <Layer><Name>spc</Name><Title>State plane only</Title></Layer>
    </Layer>
  </Capability>
</WMS_Capabilities>`;
}

export function wms111(base: string): string {
  return `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE WMT_MS_Capabilities SYSTEM "http://schemas.test/capabilities_1_1_1.dtd" [<!ELEMENT VendorSpecificCapabilities EMPTY>]>
<WMT_MS_Capabilities version="1.1.1">
  <Service><Name>OGC:WMS</Name><Title>Old county photos</Title></Service>
  <Capability>
    <Request><GetMap>
      <Format>image/jpeg</Format><Format>image/png</Format>
      <DCPType><HTTP><Get><OnlineResource xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="${escape(base)}"/></Get></HTTP></DCPType>
    </GetMap></Request>
    <Layer>
      <Title>All</Title><SRS>EPSG:4326 EPSG:2264</SRS>
      <LatLonBoundingBox minx="-75.2" miny="36.0" maxx="-74.8" maxy="36.3"/>
      <Layer opaque="1"><Name>scan</Name><Title>Scan of 1958</Title></Layer>
    </Layer>
  </Capability>
</WMT_MS_Capabilities>`;
}

/** Annex E.4: level 0 has 559,082,264.0287178; every level after it half of that. */
function matrices(
  first: number,
  last: number,
  { size = 256, prefix = '', corner = -20037508.3427892 } = {},
): string {
  const levels: string[] = [];
  for (let z = first; z <= last; z++) {
    const scale = ((559082264.0287178 / 2 ** z) * 256) / size;
    levels.push(`<TileMatrix><ows:Identifier>${prefix}${z}</ows:Identifier>
      <ScaleDenominator>${scale}</ScaleDenominator>
      <TopLeftCorner>${corner} 20037508.3427892</TopLeftCorner>
      <TileWidth>${size}</TileWidth><TileHeight>${size}</TileHeight>
      <MatrixWidth>${2 ** z}</MatrixWidth><MatrixHeight>${2 ** z}</MatrixHeight></TileMatrix>`);
  }
  return levels.join('');
}

export function wmts(base: string): string {
  const layer = (id: string, title: string, set: string, more: string) => `<Layer>
    <ows:Title>${title}</ows:Title><ows:Identifier>${id}</ows:Identifier>
    <ows:WGS84BoundingBox><ows:LowerCorner>-75.2 36</ows:LowerCorner><ows:UpperCorner>-74.8 36.3</ows:UpperCorner></ows:WGS84BoundingBox>
    ${more}<TileMatrixSetLink><TileMatrixSet>${set}</TileMatrixSet></TileMatrixSetLink></Layer>`;
  const set = (id: string, crs: string, levels: string) =>
    `<TileMatrixSet><ows:Identifier>${id}</ows:Identifier><ows:SupportedCRS>${crs}</ows:SupportedCRS>${levels}</TileMatrixSet>`;
  const style = (id: string) =>
    `<Style isDefault="true"><ows:Identifier>${id}</ows:Identifier></Style>`;
  const mercator = 'urn:ogc:def:crs:EPSG::3857';
  return `<?xml version="1.0"?>
<Capabilities xmlns="http://www.opengis.net/wmts/1.0" xmlns:ows="http://www.opengis.net/ows/1.1" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.0.0">
  <ows:ServiceIdentification><ows:Title>County tiles</ows:Title></ows:ServiceIdentification>
  <ows:ServiceProvider><ows:ProviderName>Invented County</ows:ProviderName></ows:ServiceProvider>
  <ows:OperationsMetadata><ows:Operation name="GetTile"><ows:DCP><ows:HTTP>
    <ows:Get xlink:href="${escape(base)}/rest"><ows:Constraint name="GetEncoding"><ows:AllowedValues><ows:Value>RESTful</ows:Value></ows:AllowedValues></ows:Constraint></ows:Get>
    <ows:Get xlink:href="${escape(base)}/kvp?"><ows:Constraint name="GetEncoding"><ows:AllowedValues><ows:Value>KVP</ows:Value></ows:AllowedValues></ows:Constraint></ows:Get>
  </ows:HTTP></ows:DCP></ows:Operation></ows:OperationsMetadata>
  <Contents>
    ${layer(
      'rest',
      'By address',
      'gmc',
      `${style('leaf off')}<Format>image/jpeg</Format>
      <Dimension><ows:Identifier>Year</ows:Identifier><Default>2024</Default></Dimension>
      <ResourceURL format="image/jpeg" resourceType="tile" template="${base}/rest/{Style}/{Year}/{TileMatrixSet}/{TileMatrix}/{TileRow}/{TileCol}.jpg"/>`,
    )}
    ${layer('kvp', 'By keys', 'EPSG:900913', `${style('default')}<Format>image/png</Format>`)}
    ${layer(
      'big',
      'Large tiles',
      'big',
      `${style('default')}<Format>image/png</Format><ResourceURL format="image/png" resourceType="tile" template="${base}/big/{TileMatrix}/{TileRow}/{TileCol}.png"/>`,
    )}
    ${layer('state', 'State grid', 'state', '<Format>image/png</Format>')}
    ${layer('shifted', 'Shifted corner', 'GoogleMapsCompatible', '<Format>image/png</Format>')}
    ${set('gmc', mercator, matrices(10, 12))}
    ${set('EPSG:900913', 'urn:ogc:def:crs:EPSG::900913', matrices(0, 18, { prefix: 'EPSG:900913:' }))}
    ${set('big', mercator, matrices(9, 11, { size: 512 }))}
    ${set('state', 'urn:ogc:def:crs:EPSG::2264', matrices(0, 5))}
    ${set('GoogleMapsCompatible', mercator, matrices(0, 5, { corner: -20037400 }))}
  </Contents>
</Capabilities>`;
}
