-- Makes zones.csv from the EPSG dataset as PROJ distributes it (proj.db):
--   sqlite3 -header -csv proj.db < zones.sql
-- Every projected system of the projections that this package has (transverse
-- Mercator 9807; Lambert conic conformal 9801, 9802; Hotine oblique Mercator 9812,
-- 9815; double stereographic 9809; polar stereographic 9810, 9829; Lambert azimuthal
-- equal area 9820 off the poles; Krovak with axes east and north 1041) on a frame
-- that it can bring to WGS 84. UTM zones of WGS 84 come from their rule and aren't
-- listed; of WGS 84's other systems only those about a pole are. EPSG:25838 is
-- withdrawn, and listed because data in it is about. Values and units are as EPSG
-- prints them. A system's search words are 'State Plane' where EPSG's name for its
-- conversion begins with SPCS.
WITH unit(code, word) AS (VALUES
  (9001,'m'),(9002,'ft'),(9003,'ftUS'),(9102,'deg'),(9110,'dms'),(9122,'deg'),(9201,'1')),
used AS (SELECT DISTINCT u.object_code, e.name, e.west_lon, e.south_lat, e.east_lon, e.north_lat
  FROM usage u JOIN extent e ON e.auth_name=u.extent_auth_name AND e.code=u.extent_code
  WHERE u.object_table_name='projected_crs' AND u.object_auth_name='EPSG' ORDER BY e.name)
SELECT p.code, p.name, p.geodetic_crs_code AS base, c.method_code AS method,
  (SELECT word FROM unit WHERE code=(SELECT uom_code FROM axis a
     WHERE a.coordinate_system_auth_name=p.coordinate_system_auth_name
       AND a.coordinate_system_code=p.coordinate_system_code LIMIT 1)) AS unit,
  printf('%.15g',param1_value)||' '||(SELECT word FROM unit WHERE code=param1_uom_code) AS p1,
  printf('%.15g',param2_value)||' '||(SELECT word FROM unit WHERE code=param2_uom_code) AS p2,
  printf('%.15g',param3_value)||' '||(SELECT word FROM unit WHERE code=param3_uom_code) AS p3,
  printf('%.15g',param4_value)||' '||(SELECT word FROM unit WHERE code=param4_uom_code) AS p4,
  ifnull(printf('%.15g',param5_value)||' '||(SELECT word FROM unit WHERE code=param5_uom_code),'') AS p5,
  ifnull(printf('%.15g',param6_value)||' '||(SELECT word FROM unit WHERE code=param6_uom_code),'') AS p6,
  ifnull(printf('%.15g',param7_value)||' '||(SELECT word FROM unit WHERE code=param7_uom_code),'') AS p7,
  min(u.west_lon) AS west, min(u.south_lat) AS south, max(u.east_lon) AS east, max(u.north_lat) AS north,
  group_concat(u.name, '; ') AS area,
  CASE WHEN c.name LIKE 'SPCS%' THEN 'State Plane' ELSE '' END AS words
FROM projected_crs p
JOIN conversion c ON c.auth_name=p.conversion_auth_name AND c.code=p.conversion_code
JOIN used u ON u.object_code=p.code
WHERE p.auth_name='EPSG' AND (p.deprecated=0 OR p.code=25838) AND c.method_auth_name='EPSG'
  AND p.geodetic_crs_auth_name='EPSG' AND (
    c.method_code IN (9801,9802,9807,9809,9812,9815,9820,1041) AND p.geodetic_crs_code IN
      (4269,4152,4759,6318,6322,6325,4617,4258,4283,7844,4277,4171,4173,9777,9782,4619,9702,
       4180,4661,4669,4761,4765,4167,6668,4289,4149,4150,4314,4156,4312,4313)
    OR c.method_code IN (9810,9829) AND p.geodetic_crs_code = 4326)
GROUP BY p.code ORDER BY p.code*1;
