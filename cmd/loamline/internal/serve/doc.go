// Package serve is the main job behind a small web page and an HTTP API, for
// people who have a truck and no terminal: drop a trace, see what was
// understood, answer what could not be told, take the map away.
//
// The package speaks HTTP and nothing else; jobs and their files are kept and
// made by the package jobs below it, and what either of the two needs has rooms
// beside it. Within it:
//
//   - server.go listens and shuts down; guard.go decides who may ask (loopback,
//     Host, token or users by package door, cross-origin, limits);
//   - visitor.go says who sees a job, noted.go what is written down by package
//     audit, page_crew.go opens one job to whoever has its link; share.go lets
//     phones come in, by package certificate;
//   - upload.go takes files in, streamed to the disk and counted;
//   - page_*.go answer browsers from ui/ (templates, one style sheet, scripts
//     that only enhance: every step works with plain forms); the form of the
//     settings is read by package settingsform;
//   - api_*.go answer programs under /api/v1/, as openapi.yaml says;
//   - problem.go words every refusal, for people and by RFC 9457.
//
// The map itself is the page that package export writes, shown in a frame under
// its own Content-Security-Policy: no second map is drawn here.
package serve
