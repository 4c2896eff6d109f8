-- Makes zones.csv from the EPSG dataset as PROJ distributes it (proj.db):
--   sqlite3 -header -csv proj.db < zones.sql
-- Every projected system of the three projections that this package has
-- (transverse Mercator 9807; Lambert conic conformal 9801, 9802; Hotine oblique
-- Mercator 9812, 9815) on a frame that it can bring to WGS 84. UTM zones of WGS 84
-- come from their rule and aren't listed. Values and units are as EPSG prints them.
WITH unit(code, word) AS (VALUES
  (9001,'m'),(9002,'ft'),(9003,'ftUS'),(9102,'deg'),(9110,'dms'),(9122,'deg'),(9201,'1'))
SELECT p.code, p.name, p.geodetic_crs_code AS base, c.method_code AS method,
  (SELECT word FROM unit WHERE code=(SELECT uom_code FROM axis a
     WHERE a.coordinate_system_auth_name=p.coordinate_system_auth_name
       AND a.coordinate_system_code=p.coordinate_system_code LIMIT 1)) AS unit,
  printf('%.15g',param1_value)||' '||(SELECT word FROM unit WHERE code=param1_uom_code) AS p1,
  printf('%.15g',param2_value)||' '||(SELECT word FROM unit WHERE code=param2_uom_code) AS p2,
  printf('%.15g',param3_value)||' '||(SELECT word FROM unit WHERE code=param3_uom_code) AS p3,
  printf('%.15g',param4_value)||' '||(SELECT word FROM unit WHERE code=param4_uom_code) AS p4,
  printf('%.15g',param5_value)||' '||(SELECT word FROM unit WHERE code=param5_uom_code) AS p5,
  ifnull(printf('%.15g',param6_value)||' '||(SELECT word FROM unit WHERE code=param6_uom_code),'') AS p6,
  ifnull(printf('%.15g',param7_value)||' '||(SELECT word FROM unit WHERE code=param7_uom_code),'') AS p7,
  min(e.west_lon) AS west, min(e.south_lat) AS south, max(e.east_lon) AS east, max(e.north_lat) AS north
FROM projected_crs p
JOIN conversion c ON c.auth_name=p.conversion_auth_name AND c.code=p.conversion_code
JOIN usage u ON u.object_table_name='projected_crs' AND u.object_auth_name=p.auth_name AND u.object_code=p.code
JOIN extent e ON e.auth_name=u.extent_auth_name AND e.code=u.extent_code
WHERE p.auth_name='EPSG' AND p.deprecated=0 AND c.method_auth_name='EPSG'
  AND c.method_code IN (9801,9802,9807,9812,9815)
  AND p.geodetic_crs_auth_name='EPSG' AND p.geodetic_crs_code IN
    (4269,4152,4759,6318,6322,6325,4617,4258,4283,7844,4277,4171,4173)
GROUP BY p.code ORDER BY p.code*1;
