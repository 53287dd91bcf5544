// Package web serves the workbench: one page, and the HTTP interface that it asks. What
// there is to ask stands in one table (routes.go); a row is a method and path, a sentence,
// and a plain function from a request to an answer. The rest is made from that row: the
// strict reading of JSON, the form of errors, the limits, the counters, and the OpenAPI
// document, which the tests hold against every answer.
//
// The server keeps no session and no station: the page sends the text with each request.
// What is kept is kept by package store, in one file.
package web
