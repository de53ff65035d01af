//! Answers and problems as responses.

use crate::metrics::Outcome;
use crate::options::{Format, Options};
use crate::sheet;
use actix_web::http::{StatusCode, header};
use actix_web::{HttpResponse, HttpResponseBuilder};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use serde_json::Value;
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_openapi::flat;
use sumpwright_openapi::problem::{self, Fault, Problem, ProblemKind};
use sumpwright_openapi::service::Service;
use sumpwright_openapi::table::names_and_values;
use sumpwright_openapi::uncertain;

/// An answer that is already written.
#[must_use]
pub fn written(format: Format, body: Vec<u8>) -> HttpResponse {
    let content_type = match format {
        Format::Json => "application/json",
        Format::Csv => "text/csv; charset=utf-8; header=present",
        Format::Text => "text/plain; charset=utf-8",
        Format::Page => "text/html; charset=utf-8",
        Format::Picture => "image/svg+xml",
    };
    let mut response = HttpResponse::Ok();
    if matches!(format, Format::Page | Format::Picture) {
        guard(&mut response, STILL);
    }
    response.content_type(content_type).body(body)
}

/// What a page complete in itself may do in a browser: be looked at, in its own style.
const STILL: &str = "default-src 'none'; style-src 'unsafe-inline'; form-action 'none'; \
                     base-uri 'none'; frame-ancestors 'none'";

/// Tells a browser what a page may do, to take its type as it is said, and not
/// to tell others where a reader came from.
pub(crate) fn guard(response: &mut HttpResponseBuilder, policy: &'static str) {
    response
        .insert_header((header::CONTENT_SECURITY_POLICY, policy))
        .insert_header((header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .insert_header((header::REFERRER_POLICY, "no-referrer"));
}

/// Nothing is at this address.
#[must_use]
pub fn nothing_at(path: &str) -> HttpResponse {
    let detail = format!("There is nothing at {path}. What there is, is listed at /v1.");
    problem(&Problem::plain(ProblemKind::NotFound, detail))
}

/// A document that is already written.
#[must_use]
pub fn json(document: Vec<u8>) -> HttpResponse {
    written(Format::Json, document)
}

/// A problem, with the status of its row.
#[must_use]
pub fn problem(problem: &Problem) -> HttpResponse {
    let status = StatusCode::from_u16(problem.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
    let mut response = HttpResponse::build(status);
    if let Some(seconds) = problem.kind().and_then(ProblemKind::retry_after) {
        response.insert_header((header::RETRY_AFTER, seconds));
    }
    let response = response
        .content_type(problem::MEDIA_TYPE)
        .body(serde_json::to_vec(problem).unwrap_or_default());
    counted(response, problem)
}

/// Leaves word with the response of what became of the request.
fn counted(mut response: HttpResponse, problem: &Problem) -> HttpResponse {
    if let Some(kind) = problem.kind() {
        response.extensions_mut().insert(Outcome::Problem(kind));
    }
    response
}

/// A problem's sentence, for callers that never see the body of an error.
#[must_use]
pub fn problem_as_text(problem: &Problem) -> HttpResponse {
    counted(written(Format::Text, problem.in_a_cell().into_bytes()), problem)
}

/// The methods that an address takes, to whoever asks.
#[must_use]
pub fn allow(methods: &'static str) -> HttpResponse {
    HttpResponse::NoContent().insert_header((header::ALLOW, methods)).finish()
}

/// The wrong method, with those that would be right.
#[must_use]
pub fn method_not_allowed(methods: &'static str) -> HttpResponse {
    let detail = format!("This address takes {methods}.");
    let mut response = problem(&Problem::plain(ProblemKind::MethodNotAllowed, detail));
    response.headers_mut().insert(header::ALLOW, header::HeaderValue::from_static(methods));
    response
}

/// None of `offered` is accepted.
#[must_use]
pub fn not_acceptable(offered: &[Format]) -> Problem {
    let kinds: Vec<&str> = offered.iter().map(|format| format.media_type()).collect();
    let detail = format!("This answer comes as {}. Accept one of them.", kinds.join(", "));
    Problem::plain(ProblemKind::NotAcceptable, detail)
}

/// An answer, as a query asked to be shown it.
pub fn shown(mut record: Value, service: &Service, options: &Options) -> Result<Vec<u8>, Problem> {
    if let Some(path) = &options.pick {
        let known = service.record.has_path(path);
        record = match flat::pick(&record, path) {
            Some(value) => value.clone(),
            // A member that this answer leaves out is an empty cell.
            None if known => Value::String(String::new()),
            None => return Err(nothing_to_pick(path, &record)),
        };
    }
    if let Some(digits) = options.digits {
        round(&mut record, digits);
    }
    Ok(match options.format {
        Format::Csv => names_and_values(&record, options.decimal_comma),
        Format::Text => plain(&record, service, options.decimal_comma).into_bytes(),
        Format::Page => sheet::page(service, &record).into_bytes(),
        Format::Json | Format::Picture => record.to_string().into_bytes(),
    })
}

fn nothing_to_pick(path: &str, record: &Value) -> Problem {
    let leaves = flat::flatten(record);
    let near = sumpwright_engine::text::nearest(path, leaves.iter().map(|(p, _)| p.as_str()));
    let near = near.map(|near| format!(" Did you mean {near:?}?")).unwrap_or_default();
    let detail = format!("pick: the answer has nothing at {path:?}.{near}");
    Problem::new(ProblemKind::Inconsistent, Fault::new("", detail))
}

fn round(value: &mut Value, digits: i32) {
    match value {
        Value::Number(number) => {
            let rounded = number.as_f64().map(|full| round_to(full, digits));
            if let Some(rounded) = rounded.and_then(serde_json::Number::from_f64) {
                *number = rounded;
            }
        }
        Value::Array(entries) => entries.iter_mut().for_each(|entry| round(entry, digits)),
        Value::Object(members) => members.values_mut().for_each(|member| round(member, digits)),
        _ => {}
    }
}

/// Lines for a person. What is said of how sure a number is stands behind the
/// number itself.
fn plain(value: &Value, service: &Service, decimal_comma: bool) -> String {
    if !value.is_object() && !value.is_array() {
        return flat::shown(value, decimal_comma);
    }
    let how_sure = uncertain::in_words(value, &service.record);
    let lines = flat::flatten(value).into_iter().filter_map(|(path, leaf)| {
        if path.starts_with(uncertain::NUMBERS) {
            return None;
        }
        let words = how_sure.iter().find(|(own, _)| *own == path).map(|(_, words)| words);
        let shown = flat::shown(leaf, decimal_comma);
        Some(match words {
            Some(words) => format!("{path}: {shown} ({words})"),
            None => format!("{path}: {shown}"),
        })
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// A page for a person, complete in itself.
#[must_use]
pub fn page(title: &str, style: &str, body: &Markup) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width";
                title { (title) }
                style { (PreEscaped(style)) }
            }
            body { (body) }
        }
    };
    page.into_string()
}
