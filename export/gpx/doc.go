// Package gpx writes waypoints for re-marking (GPX 1.1).
package gpx
