package web

import (
	"context"
)

// routes is the table of all that can be asked. A new row is served, limited, counted and
// documented by being here.
func (s *Server) routes() []route {
	d := s.desk
	return []route{
		answer("GET /api/examples", "Example stations, and station files to start from", s.examples),

		answer("POST /api/sheet", "What stands in a station file: every field and the drawing",
			d.Sheet).computing(short),
		answer("POST /api/edit", "Change a station file; comments stay", d.Edit).computing(short),
		answer("POST /api/rows", "Which valve, with what is known at once: slam is left out where stops are still to be run", d.Rows).computing(short),
		withProgress(answer("POST /api/answer", "Which valve: all of them judged, the pump stops of the shown one run",
			d.Answer).computing(long), "full", d.AnswerFull),
		withProgress(answer("POST /api/trip", "What a pump stop does with one valve, as a film",
			d.Trip).computing(long), "progress", d.TripTold),
		answer("POST /api/remedies", "What remedies do to the pump stops with one valve, and what each writes into the file",
			d.Remedies).computing(long),
		answer("POST /api/explain", "Where a number comes from", d.Explain).computing(long),
		answer("POST /api/configure", "What a valve can be made of, and what that bars", d.Configure).computing(short),
		answer("POST /api/compare", "Valves side by side", d.Compare).computing(long),

		answer("POST /api/inquiry", "What a letter or mail says of a station; nothing is taken by it", d.Inquiry).computing(short),
		answer("POST /api/curve", "A pump curve pasted from a spreadsheet, as points", d.Curve).computing(short),

		answer("POST /api/diagnose", "Causes of what was noticed, in order, and the next safe test; at a station or without one",
			d.Diagnose).computing(long),
		answer("POST /api/leak", "Leak-back and pump flow off the level of the wet well; at a station or without one",
			d.Leak).computing(short),
		answer("POST /api/log", "What a log of a logger or control system holds, and its stops; nothing of it is kept",
			d.Log).computing(long),
		withProgress(answer("POST /api/fit", "A station fitted to logged stops, and its file with what was measured",
			d.Fit).computing(long), "progress", d.FitTold),

		answer("GET /api/documents", "Kinds of documents, with their formats", s.documents),
		file("POST /api/document", "Write a document: the file, or with preview a page to be shown in a frame", "*/*",
			s.document).computing(long).framed(),

		answer("GET /api/studies", "Studies that are kept, the last saved first, without texts", s.listStudies),
		answer("POST /api/studies", "Keep a new study", s.createStudy).creating(),
		answer("GET /api/studies/{id}", "The newest revision of a study", s.getStudy),
		answer("PUT /api/studies/{id}", "Save a study on the revision that it began from", s.saveStudy).conflicting(),
		answer("DELETE /api/studies/{id}", "Remove a study; it can be restored", s.removeStudy),
		answer("POST /api/studies/{id}/restore", "Bring a removed study back", s.restoreStudy),
		answer("GET /api/studies/{id}/revisions", "All revisions of a study, newest first, without texts", s.revisions),
		answer("GET /api/studies/{id}/revisions/{number}", "One revision of a study", s.revision),
		answer("POST /api/studies/{id}/compare", "What differs between the answers for two revisions",
			s.compareRevisions).computing(long),
		file("GET /api/studies/{id}/station.yaml", "The station file of a study, as it was saved", "application/yaml",
			s.exportStudy),

		file("GET /api/openapi.json", "This interface as OpenAPI 3.1", mediaJSON, s.openapi),
		answer("GET /healthz", "Whether the server can answer and keep", s.healthy).public(),
		file("GET /metrics", "Counters in the text format of Prometheus", mediaMetrics, s.metrics),
	}
}

// openapi is the document that was made from the table.
func (s *Server) openapi(context.Context, struct{}) (*download, error) {
	return &download{media: mediaJSON, data: s.spec}, nil
}
