//! Tables by POST: a stream of rows, each a document; or one list of one document.

mod query;

use crate::http::door::Arrival;
use crate::http::format::{Format, is_encoded};
use crate::http::options::AnswerOptions;
use crate::http::render;
use crate::http::respond;
use crate::shared::Shared;
use crate::stream::{self, Ended, Incoming, PART_MOST, PIECE, PartEnds, Parts};
use actix_web::{HttpRequest, HttpResponse, web};
use query::{check_no_other, options};
use std::borrow::Cow;
use std::sync::Arc;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::Service;
use sumpwright_openapi::table::{RowEnds, Table, TableOptions, as_list};

/// Answers a table.
pub async fn post(
    request: &HttpRequest,
    shared: web::Data<Shared>,
    service: Arc<Service>,
    payload: web::Payload,
) -> Result<HttpResponse, Problem> {
    if is_encoded(request.headers()) {
        let detail = "Send the table as text/csv and without content encoding.";
        return Err(Problem::plain(ProblemKind::UnsupportedMediaType, detail));
    }
    let options = options(request)?;
    if let Some(list) = service.list() {
        return one_list(request, &shared, service, list, payload, options).await;
    }
    check_no_other(&options)?;
    Format::accepted(request, &[Format::Csv])?;
    let mut source = Incoming::of(request, shared, payload)?;
    source.fill(PIECE).await?;
    let above = options.rows_above();
    let headings = loop {
        let from = RowEnds::above(&source.waiting, above);
        let from = from.or(source.ended.then_some(source.waiting.len()));
        let to = from.and_then(|from| Some(from + RowEnds::first(&source.waiting[from..])?));
        let to = to.or(source.ended.then_some(source.waiting.len()));
        if let (Some(from), Some(to)) = (from, to) {
            break source.waiting.drain(..to).skip(from).collect::<Vec<u8>>();
        }
        if source.waiting.len() > PART_MOST {
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
    let how_much =
        service.work_of_first_rows(options.everywhere.iter().map(|(path, _)| path.as_str()));
    let opened = move || Table::open(service, &headings, &sample, &options);
    let table = source.shared.queue.answer(&source.caller, how_much, opened).await?;
    if source.ended {
        // Where all of it is here, it is refused before any row is answered.
        let mut room = table.rows_most();
        let last = { ends }.last_of(&source.waiting, &mut room).unwrap_or(0);
        if room == 0 && !source.waiting[last..].trim_ascii().is_empty() {
            return Err(table.too_many_rows());
        }
    }
    let rows = RowsInRoom { ends, room: table.rows_most(), too_many: table.too_many_rows() };
    let heading = table.heading();
    let media_type = "text/csv; charset=utf-8; header=present";
    stream::respond(Arc::new(table), rows, source, &heading, media_type)
}

/// The ends of as many rows as there is room for.
struct RowsInRoom {
    ends: RowEnds,
    /// How many more there is room for.
    room: usize,
    too_many: Problem,
}

impl PartEnds for RowsInRoom {
    fn last(&mut self, bytes: &[u8]) -> Option<usize> {
        self.ends.last_of(bytes, &mut self.room)
    }

    fn is_open(&self) -> bool {
        self.ends.is_open()
    }

    fn has_no_room(&self) -> Option<&Problem> {
        (self.room == 0).then_some(&self.too_many)
    }
}

impl Parts for Table {
    fn answer_while(
        &self,
        rows: &[u8],
        out: &mut Vec<u8>,
        go_on: &mut dyn FnMut(&mut Vec<u8>, usize) -> bool,
    ) {
        Table::answer_while(self, rows, out, go_on);
    }

    fn answer_open(&self, row: &[u8], out: &mut Vec<u8>) {
        Table::answer_open(self, row, out);
    }

    fn end(&self, why: &Ended, out: &mut Vec<u8>) {
        match why {
            Ended::Problem(problem) => {
                let why = format!("The table ends before this row. {}", problem.in_a_cell());
                Table::end(self, &why, out);
            }
            Ended::PartTooLong => Table::end(
                self,
                "The table ends before this row, which is longer than 8 MiB, the maximum one may \
                 be.",
                out,
            ),
        }
    }
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
    let table = shared.receiving.document(Arrival::counted(request), request, payload).await?;
    let format = shown.format;
    let query = options.everywhere.iter().map(|(path, _)| path.as_str());
    let how_much = service.work_of_list(table.len(), query);
    let work = move || {
        let asked = as_list(&service, list, &table, &options)?;
        shown.decimal_comma = asked.decimal_comma;
        shown.from_table = true;
        let answered = render::of_members(&service, asked.pairs(), &shown);
        answered.map_err(|problem| asked.told(problem))
    };
    let answered = shared.queue.answer(&Arrival::counted(request), how_much, work).await?;
    Ok(respond::written(format, answered))
}

#[cfg(test)]
mod tests {
    use super::*;
    use sumpwright_openapi::problem::FaultCode;

    #[test]
    fn rows_end_where_there_is_no_room_for_more() {
        let too_many = Problem::of_whole(FaultCode::TooMany, "too many");
        let mut rows = RowsInRoom { ends: RowEnds::below(b"x\n"), room: 3, too_many };
        assert_eq!(rows.last(b"1\n2\n"), Some(4));
        assert!(rows.has_no_room().is_none());
        assert_eq!(rows.last(b"3\n4\n"), Some(2));
        assert_eq!(rows.has_no_room().map(|problem| problem.status), Some(422));
        assert_eq!(rows.last(b"5\n"), None);
    }
}
