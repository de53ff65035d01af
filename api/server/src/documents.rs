//! Many documents in one POST: a stream of lines, each a document (NDJSON, JSON Lines).

use crate::http::format::{Format, is_encoded, is_in_utf_8};
use crate::http::options::extent;
use crate::http::respond::saying_the_extent;
use crate::shared::Shared;
use crate::stream::{self, Ended, Incoming, PartEnds, Parts};
use actix_web::{HttpRequest, HttpResponse, web};
use std::sync::Arc;
use sumpwright_openapi::lines::Lines;
use sumpwright_openapi::problem::{FaultCode, Problem, ProblemKind};
use sumpwright_openapi::service::Service;

/// Answers documents, a line each.
pub async fn post(
    request: &HttpRequest,
    shared: web::Data<Shared>,
    service: Arc<Service>,
    payload: web::Payload,
) -> Result<HttpResponse, Problem> {
    if let Some((name, _)) = form_urlencoded::parse(request.query_string().as_bytes()).next() {
        let detail = format!(
            "The query has {name:?}. Documents that come one per line are answered whole, so \
             nothing is asked for in the query; Prefer: return=minimal makes each answer shorter."
        );
        return Err(Problem::of_whole(FaultCode::UnknownMember, detail));
    }
    if is_encoded(request.headers()) || !is_in_utf_8(request.headers()) {
        let detail = "Send the documents in UTF-8, one per line, and without content encoding.";
        return Err(Problem::plain(ProblemKind::UnsupportedMediaType, detail));
    }
    let format = Format::accepted(request, &Format::of_lines(request.headers()))?;
    let mut source = Incoming::of(request, shared, payload)?;
    source.fill(BYTE_ORDER_MARK.len()).await?;
    if source.waiting.starts_with(BYTE_ORDER_MARK) {
        source.waiting.drain(..BYTE_ORDER_MARK.len());
    }
    let extent = extent(request.headers());
    let lines = Arc::new(Lines::new(service, extent));
    let response = stream::respond(lines, LineEnds, source, b"", format.content_type())?;
    Ok(saying_the_extent(response, extent))
}

const BYTE_ORDER_MARK: &[u8] = "\u{feff}".as_bytes();

/// A line feed ends a document: within one it is escaped.
struct LineEnds;

impl PartEnds for LineEnds {
    fn last(&mut self, bytes: &[u8]) -> Option<usize> {
        memchr::memrchr(b'\n', bytes).map(|at| at + 1)
    }

    /// The last line needs no end.
    fn is_open(&self) -> bool {
        false
    }
}

impl Parts for Lines {
    fn answer_while(
        &self,
        lines: &[u8],
        out: &mut Vec<u8>,
        go_on: &mut dyn FnMut(&mut Vec<u8>, usize) -> bool,
    ) {
        Lines::answer_while(self, lines, out, go_on);
    }

    fn end(&self, why: &Ended, out: &mut Vec<u8>) {
        let problem = match why {
            Ended::Problem(problem) => {
                let detail = format!("The answers end before this document. {}", problem.detail);
                Problem::plain(problem.kind().unwrap_or(ProblemKind::Internal), detail)
            }
            Ended::PartTooLong => {
                let detail = "The answers end before this document, which is longer than 8 MiB, \
                              the maximum. Send what comes after it again.";
                Problem::plain(ProblemKind::TooLarge, detail)
            }
        };
        Lines::end(&problem, out);
    }
}
