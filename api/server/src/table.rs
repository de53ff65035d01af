//! Tables by POST: rows come in and answers go out as a stream.
//!
//! Rows are answered in pieces on the blocking threads, a few pieces at a time and in
//! order. A piece that takes long yields its thread now and then, so that each row gets
//! as much time as a single document. A row that takes even longer ends the table, and the
//! last row says so. Answers that the caller has not read yet wait in an unnamed file, so
//! a caller that sends everything before it reads is served too, and memory does not grow
//! with the number of rows.

mod piece;
mod query;
mod spool;

use crate::http::format::Format;
use crate::http::options::AnswerOptions;
use crate::http::render;
use crate::http::respond::{self, Handled, named};
use crate::load::receive::DOCUMENT_MOST;
use crate::shared::Shared;
use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse, web};
use futures_util::StreamExt;
use futures_util::stream::FuturesOrdered;
use piece::Piece;
use query::{check_no_other, options};
use spool::{Spool, reading};
use std::borrow::Cow;
use std::io;
use std::rc::Rc;
use std::sync::Arc;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::Service;
use sumpwright_openapi::table::{RowEnds, Table, TableOptions, as_list};

/// Maximum length of a table, in bytes.
const TABLE_MOST: u64 = 1 << 30;
/// A row longer than this ends the table.
const ROW_MOST: usize = DOCUMENT_MOST;
/// Approximate size of a piece of rows, in bytes.
const PIECE: usize = 128 * 1024;
/// Number of pieces in progress at the same time.
const AT_ONCE: usize = 4;

/// Answers a table.
pub async fn post(
    request: &HttpRequest,
    shared: web::Data<Shared>,
    service: Arc<Service>,
    payload: web::Payload,
) -> Handled {
    let begun = begin(request, shared, service, payload).await;
    Ok(begun.map_err(|problem| named(request, problem))?)
}

async fn begin(
    request: &HttpRequest,
    shared: web::Data<Shared>,
    service: Arc<Service>,
    payload: web::Payload,
) -> Result<HttpResponse, Problem> {
    let options = options(request)?;
    if let Some(list) = service.list() {
        return one_list(request, &shared, service, list, payload, options).await;
    }
    check_no_other(&options)?;
    Format::accepted(request, &[Format::Csv])?;
    let length = request.headers().get(header::CONTENT_LENGTH);
    let length = length.and_then(|length| length.to_str().ok()?.parse::<u64>().ok());
    if length.is_some_and(|length| length > TABLE_MOST) {
        return Err(too_long());
    }
    let mut source = TableSource { shared, payload, waiting: Vec::new(), taken: 0, ended: false };
    source.fill(PIECE).await?;
    let headings = loop {
        if let Some(end) = RowEnds::first(&source.waiting) {
            break source.waiting.drain(..end).collect::<Vec<u8>>();
        }
        if source.ended {
            break std::mem::take(&mut source.waiting);
        }
        if source.waiting.len() > ROW_MOST {
            let detail = "The first row of the table, the headings, does not end within 8 MiB. It \
                          names the members, and a line break ends it.";
            return Err(Problem::plain(ProblemKind::TooLarge, detail));
        }
        let more = source.waiting.len() + PIECE;
        source.fill(more).await?;
    };
    let ends = RowEnds::below(&headings);
    let mut seen = ends;
    let whole =
        if source.ended { source.waiting.len() } else { seen.last(&source.waiting).unwrap_or(0) };
    let sample = source.waiting[..whole].to_vec();
    let opened = move || Table::open(service, &headings, &sample, &options);
    let table = source.shared.queue.answer(opened).await?;
    let spool = Rc::new(Spool::new(source.shared.under_way()));
    spool.append(&table.heading()).map_err(|error| no_room(&error))?;
    actix_web::rt::spawn(answer(table, ends, source, Rc::clone(&spool)));
    Ok(HttpResponse::Ok()
        .content_type("text/csv; charset=utf-8; header=present")
        .streaming(reading(spool)))
}

/// Answers a table that is one list of one document.
async fn one_list(
    request: &HttpRequest,
    shared: &Shared,
    service: Arc<Service>,
    list: &'static str,
    payload: web::Payload,
    mut options: TableOptions,
) -> Result<HttpResponse, Problem> {
    let said: Vec<(Cow<'_, str>, Cow<'_, str>)> = std::mem::take(&mut options.everywhere)
        .into_iter()
        .map(|(name, text)| (Cow::Owned(name), Cow::Owned(text)))
        .collect();
    if options.columns.is_some() {
        let detail = "columns= is for a table of documents; this table is a single document. \
                      pick= names one value of its answer.";
        return Err(Problem::plain(ProblemKind::Malformed, detail));
    }
    let (mut shown, around) = AnswerOptions::take(request, &service, &said)?;
    options.everywhere =
        around.into_iter().map(|(path, text)| (path.to_owned(), text.to_owned())).collect();
    let table = shared.receiving.document(request, payload).await?;
    let format = shown.format;
    let work = move || {
        let (document, decimal_comma) = as_list(&service, list, &table, &options)?;
        shown.decimal_comma = decimal_comma;
        let pairs = document.iter().map(|(path, text)| (path.as_str(), text.as_str()));
        render::of_members(&service, pairs, &shown)
    };
    Ok(respond::written(format, shared.queue.answer(work).await?))
}

fn too_long() -> Problem {
    let detail = "The table is longer than 1 GiB, the maximum. Send it in parts.";
    Problem::plain(ProblemKind::TooLarge, detail)
}

fn no_room(error: &io::Error) -> Problem {
    tracing::error!(%error, "no space for the answer to a table");
    Problem::plain(
        ProblemKind::Internal,
        "The service has no space to store the answer to a table.",
    )
}

/// The incoming table.
struct TableSource {
    shared: web::Data<Shared>,
    payload: web::Payload,
    waiting: Vec<u8>,
    taken: u64,
    ended: bool,
}

impl TableSource {
    /// Waits until this many bytes have arrived or the table has ended.
    async fn fill(&mut self, least: usize) -> Result<(), Problem> {
        while !self.ended && self.waiting.len() < least {
            match self.shared.receiving.part(&mut self.payload).await? {
                Some(bytes) => {
                    self.taken += bytes.len() as u64;
                    if self.taken > TABLE_MOST {
                        return Err(too_long());
                    }
                    self.waiting.extend_from_slice(&bytes);
                }
                None => self.ended = true,
            }
        }
        Ok(())
    }
}

/// Answers the rows as they arrive and ends the answer.
async fn answer(table: Table, ends: RowEnds, source: TableSource, spool: Rc<Spool>) {
    let answered = answer_rows(Arc::new(table), ends, source, &spool).await;
    if let Err(error) = &answered {
        tracing::info!(%error, "the answer to a table was not completed");
    }
    spool.end(answered.is_err());
}

async fn answer_rows(
    table: Arc<Table>,
    mut ends: RowEnds,
    mut source: TableSource,
    spool: &Spool,
) -> io::Result<()> {
    let mut on_the_way = FuturesOrdered::new();
    let (mut looked_at, mut too_long) = (0, false);
    loop {
        source.fill(looked_at + PIECE).await.map_err(|problem| io::Error::other(problem.detail))?;
        let last = ends.last(&source.waiting[looked_at..]).map(|end| looked_at + end);
        looked_at = source.waiting.len();
        let open = source.ended && ends.is_open();
        let rows = match last {
            _ if source.ended && !open => source.waiting.len(),
            Some(end) => end,
            None if source.ended || looked_at < ROW_MOST => 0,
            None => {
                too_long = true;
                source.ended = true;
                source.waiting.clear();
                0
            }
        };
        let rest = source.waiting.split_off(rows);
        let piece = std::mem::replace(&mut source.waiting, rest);
        looked_at -= piece.len();
        if !piece.is_empty() {
            let piece = Piece::new(Arc::clone(&table), piece);
            let shared = source.shared.clone();
            on_the_way.push_back(async move { piece.answer(&shared.queue).await });
        }
        while on_the_way.len() >= AT_ONCE || source.ended {
            let Some((answers, ended)) = on_the_way.next().await else { break };
            spool.append(&answers)?;
            if let Some(problem) = ended {
                tracing::info!(detail = problem.detail, "a table ended early");
                let why = format!("The table ends before this row. {}", problem.in_a_cell());
                return end(&table, &why, spool);
            }
        }
        if too_long {
            let why = "The table ends before this row, which is longer than 8 MiB, the maximum \
                       one may be.";
            return end(&table, why, spool);
        }
        if source.ended {
            if !source.waiting.is_empty() {
                let mut answers = Vec::new();
                table.answer_open(&source.waiting, &mut answers);
                spool.append(&answers)?;
            }
            return Ok(());
        }
    }
}

/// Ends a table with a row that says why it ends.
fn end(table: &Table, why: &str, spool: &Spool) -> io::Result<()> {
    let mut last = Vec::new();
    table.end(why, &mut last);
    spool.append(&last)
}
