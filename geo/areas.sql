-- Makes areas.csv from the EPSG dataset as PROJ distributes it (proj.db):
--   sqlite3 -csv proj.db < areas.sql
-- The name of the area of use of every system of zones.csv.
SELECT p.code, min(replace(rtrim(e.name, '.'), char(10), ' '))
FROM projected_crs p
JOIN conversion c ON c.auth_name=p.conversion_auth_name AND c.code=p.conversion_code
JOIN usage u ON u.object_table_name='projected_crs' AND u.object_auth_name=p.auth_name AND u.object_code=p.code
JOIN extent e ON e.auth_name=u.extent_auth_name AND e.code=u.extent_code
WHERE p.auth_name='EPSG' AND p.deprecated=0 AND c.method_auth_name='EPSG'
  AND c.method_code IN (9801,9802,9807,9812,9815)
  AND p.geodetic_crs_auth_name='EPSG' AND p.geodetic_crs_code IN
    (4269,4152,4759,6318,6322,6325,4617,4258,4283,7844,4277,4171,4173)
GROUP BY p.code ORDER BY p.code*1;
