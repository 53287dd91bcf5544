// What the server takes and sends, as its own description says it: make page has the types
// written from seatward schema api. Types only: nothing here runs.

/**
 * @typedef {import("seatward-api").paths} Routes
 * @typedef {import("seatward-api").components["schemas"]} Schemas
 *
 * @typedef {Schemas["desk.SheetReply"]} Sheet
 * @typedef {Schemas["desk.Field"]} Field
 * @typedef {Schemas["desk.Change"]} Change
 * @typedef {Schemas["desk.Drawing"]} Drawing
 * @typedef {Schemas["desk.DrawnPoint"]} Point
 * @typedef {Schemas["desk.DrawnDevice"]} Device
 *
 * @typedef {Schemas["desk.AnswerReply"]} Answer
 * @typedef {Schemas["desk.Row"]} Row
 * @typedef {Schemas["desk.RowSlam"]} Slam
 * @typedef {Schemas["desk.RowThreshold"]} Threshold
 * @typedef {Schemas["study.CandidateJSON"]} Candidate
 * @typedef {Schemas["study.FindingJSON"]} Finding
 * @typedef {Schemas["desk.ConfigureReply"]} Configuration
 * @typedef {Schemas["desk.Option"]} Option
 *
 * @typedef {Schemas["desk.TripReply"]} TripAnswer
 * @typedef {Schemas["study.TripJSON"]} Trip
 * @typedef {Schemas["study.RemedyJSON"]} Remedy
 * @typedef {Schemas["desk.Film"]} Film
 * @typedef {Schemas["desk.Traces"]} Traces
 * @typedef {Schemas["desk.Exact"]} Exact
 * @typedef {Schemas["desk.Remedy"]} Cure
 * @typedef {Schemas["desk.FilmMoment"]} Moment
 * @typedef {Schemas["desk.FilmSlam"]} FilmSlam
 * @typedef {Schemas["desk.FilmEvent"]} FilmEvent
 * @typedef {Schemas["desk.FilmTrial"]} Trial
 * @typedef {Schemas["desk.FilmSaid"]} Said
 * @typedef {Schemas["desk.Cutaway"]} Cutaway
 * @typedef {Schemas["valve.Figure"]} Figure
 *
 * @typedef {Schemas["desk.InquiryReply"]} Inquiry
 * @typedef {Schemas["desk.InquiryFind"]} InquiryFind
 * @typedef {Schemas["desk.CurveReply"]} Curve
 * @typedef {Schemas["desk.DiagnoseReply"]} Diagnosis
 * @typedef {Schemas["desk.LeakRequest"]} LeakRequest
 * @typedef {Schemas["desk.LeakReply"]} Leak
 * @typedef {Schemas["desk.LogReply"]} Log
 * @typedef {Schemas["desk.FitRequest"]} FitRequest
 * @typedef {Schemas["desk.FitReply"]} Fit
 * @typedef {Schemas["desk.SentFile"]} SentFile
 * @typedef {Schemas["desk.Chart"]} Chart
 * @typedef {Schemas["desk.ChartPanel"]} Panel
 *
 * @typedef {Schemas["desk.Message"]} Message
 * @typedef {Schemas["Kept"]} Kept
 * @typedef {Schemas["Revision"]} Revision
 * @typedef {Schemas["DocumentKind"]} Paper
 * @typedef {Schemas["DocumentRequest"]} PaperRequest
 * @typedef {Schemas["Example"]} Example
 * @typedef {Schemas["problem"] | Schemas["conflict"]} Refusal
 */

/** @typedef {"get"|"post"|"put"|"delete"} Method */
/** An address after /api/. @typedef {keyof Routes extends infer K ? K extends `/api/${infer P}` ? P : never : never} Address */

/**
 * The addresses that take a method.
 * @template {Method} M
 * @typedef {{[P in Address]: Routes[`/api/${P}`] extends Record<M, object> ? P : never}[Address]} Asked
 */

/**
 * What is sent to an address; undefined where nothing is.
 * @template {Method} M
 * @template {Address} P
 * @typedef {Routes[`/api/${P}`] extends Record<M, {requestBody: {content: {"application/json": infer B}}}> ? B : undefined} Sent
 */

/**
 * What an address answers.
 * @template {Method} M
 * @template {Address} P
 * @typedef {Routes[`/api/${P}`] extends Record<M, {responses: {200: {content: {"application/json": infer R}}}}> ? R
 *   : Routes[`/api/${P}`] extends Record<M, {responses: {201: {content: {"application/json": infer R}}}}> ? R : never} Reply
 */

/**
 * What may stand in the query of an address.
 * @template {Method} M
 * @template {Address} P
 * @typedef {Routes[`/api/${P}`] extends Record<M, {parameters: {query?: infer Q extends Record<string, string|undefined>}}> ? Q : never} Query
 */

/** @typedef {{[P in Address]: Routes[`/api/${P}`] extends {post: {responses: {200: {content: {"application/x-ndjson": object}}}}} ? P : never}[Address]} Slow answers in lines, if so asked */
/** @typedef {Routes[`/api/${Slow}`]["post"]["responses"][200]["content"]["application/x-ndjson"]} AnyLine */

/**
 * A line of an answer that comes in lines: how far it is, what is wrong, or the answer.
 * @template {Slow} P
 * @typedef {Exclude<AnyLine, {answer: object}> | {answer: Reply<"post", P>}} Line
 */

/** What a drawing of a valve goes by; what is not known is drawn as usual. @typedef {Pick<Cutaway, "figure"|"bore_m"> & Partial<Cutaway>} CutawayInfo */

/** What is put into the braces of an address. @typedef {{id?: string, number?: number}} At */

export {};
