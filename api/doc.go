// Package api is the JSON face under /api/v1: handlers, wire types and the OpenAPI 3.1 document they make.
//
// Units are in the names (width_mm, net_m2); money is decimal text with the currency's places; times are
// RFC 3339 in UTC. A body is read strictly, a spec by orderform, so that every refusal is a sentence of ours with
// the path of the entry. Errors are returned to the application's error handler, which answers with problem
// details (RFC 9457) by the one table in api/problem; huma writes none. Limits: bodies up to 1 MB, files up to
// 2 MB, lists up to 200 rows but the catalogue.
package api
