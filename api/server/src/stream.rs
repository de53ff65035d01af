//! Streams of parts by POST: rows of a table, or documents a line each, come in and answers go
//! out, both at the same time.
//!
//! Parts are answered in pieces on the blocking threads, a few pieces at a time and in
//! order. A piece that takes long yields its thread now and then, so that each part gets
//! as much time as a single document. A part that takes even longer ends the stream, and the
//! last answer says so. Answers that the caller has not read yet wait in an unnamed file, so
//! a caller that sends everything before it reads is served too, and memory does not grow
//! with the number of parts.

mod piece;
mod spool;

use crate::http::door::Arrival;
use crate::load::receive::DOCUMENT_MOST;
use crate::shared::Shared;
use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse, web};
use futures_util::StreamExt;
use futures_util::stream::FuturesOrdered;
use piece::Piece;
use spool::{Spool, reading};
use std::io;
use std::rc::Rc;
use std::sync::Arc;
use sumpwright_openapi::problem::{Problem, ProblemKind};

/// Maximum length of a stream, in bytes.
const STREAM_MOST: u64 = 1 << 30;
/// A part longer than this ends the stream.
pub(crate) const PART_MOST: usize = DOCUMENT_MOST;
/// Approximate size of a piece, in bytes.
pub(crate) const PIECE: usize = 128 * 1024;
/// Number of pieces in progress at the same time.
const AT_ONCE: usize = 4;

/// What answers the parts of a stream.
pub(crate) trait Parts: Send + Sync + 'static {
    /// Answers whole parts and appends the answers to `out`; after each part calls `go_on` with
    /// the number of bytes of `parts` that have been answered, and stops if it returns false.
    fn answer_while(
        &self,
        parts: &[u8],
        out: &mut Vec<u8>,
        go_on: &mut dyn FnMut(&mut Vec<u8>, usize) -> bool,
    );

    /// Answers a last part that is not closed, where one can be left.
    fn answer_open(&self, part: &[u8], out: &mut Vec<u8>) {
        let _ = (part, out);
    }

    /// Says why the stream ends before it has been answered.
    fn end(&self, why: &Ended, out: &mut Vec<u8>);
}

/// Finds where parts end.
pub(crate) trait PartEnds {
    /// The end of the last part that ends in these bytes, which follow those looked at before.
    fn last(&mut self, bytes: &[u8]) -> Option<usize>;

    /// Whether a part is left that cannot end.
    fn is_open(&self) -> bool;

    /// Why no part is answered after the last one that ended, where there is no room for more.
    fn has_no_room(&self) -> Option<&Problem> {
        None
    }
}

/// Why a stream ends early.
pub(crate) enum Ended {
    /// The next part could not be answered.
    Problem(Problem),
    /// The next part is longer than one may be.
    PartTooLong,
}

/// What of the parts is coming in.
pub(crate) struct Incoming {
    pub(crate) shared: web::Data<Shared>,
    pub(crate) caller: Arc<str>,
    payload: web::Payload,
    pub(crate) waiting: Vec<u8>,
    taken: u64,
    pub(crate) ended: bool,
}

impl Incoming {
    /// What a request sends, unless it says itself that it is too much.
    pub(crate) fn of(
        request: &HttpRequest,
        shared: web::Data<Shared>,
        payload: web::Payload,
    ) -> Result<Self, Problem> {
        let length = request.headers().get(header::CONTENT_LENGTH);
        let length = length.and_then(|length| length.to_str().ok()?.parse::<u64>().ok());
        if length.is_some_and(|length| length > STREAM_MOST) {
            return Err(too_long());
        }
        let caller = Arrival::counted(request);
        Ok(Self { shared, caller, payload, waiting: Vec::new(), taken: 0, ended: false })
    }

    /// Waits until this many bytes have arrived or all have.
    pub(crate) async fn fill(&mut self, least: usize) -> Result<(), Problem> {
        while !self.ended && self.waiting.len() < least {
            match self.shared.receiving.part(&mut self.payload).await? {
                Some(bytes) => {
                    self.taken += bytes.len() as u64;
                    if self.taken > STREAM_MOST {
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

fn too_long() -> Problem {
    let detail = "The table, or all documents together, are longer than 1 GiB, the maximum. Send \
                  them in parts.";
    Problem::plain(ProblemKind::TooLarge, detail)
}

/// Answers the parts as they arrive, after `heading`.
pub(crate) fn respond(
    parts: Arc<dyn Parts>,
    ends: impl PartEnds + 'static,
    source: Incoming,
    heading: &[u8],
    media_type: &str,
) -> Result<HttpResponse, Problem> {
    let spool = Rc::new(Spool::new(source.shared.under_way()));
    spool.append(heading).map_err(|error| no_room(&error))?;
    actix_web::rt::spawn(answer(parts, ends, source, Rc::clone(&spool)));
    Ok(HttpResponse::Ok().content_type(media_type).streaming(reading(spool)))
}

fn no_room(error: &io::Error) -> Problem {
    tracing::error!(%error, "no space for the answer to a stream");
    Problem::plain(ProblemKind::Internal, "The service has no space to store the answer.")
}

async fn answer(
    parts: Arc<dyn Parts>,
    mut ends: impl PartEnds,
    source: Incoming,
    spool: Rc<Spool>,
) {
    let answered = answer_parts(parts, &mut ends, source, &spool).await;
    if let Err(error) = &answered {
        tracing::info!(%error, "the answer to a stream was not completed");
    }
    spool.end(answered.is_err());
}

async fn answer_parts(
    parts: Arc<dyn Parts>,
    ends: &mut dyn PartEnds,
    mut source: Incoming,
    spool: &Spool,
) -> io::Result<()> {
    let mut on_the_way = FuturesOrdered::new();
    let (mut looked_at, mut too_long, mut no_room) = (0, false, None);
    loop {
        source.fill(looked_at + PIECE).await.map_err(|problem| io::Error::other(problem.detail))?;
        let last = ends.last(&source.waiting[looked_at..]).map(|end| looked_at + end);
        looked_at = source.waiting.len();
        let open = source.ended && ends.is_open();
        let full = ends.has_no_room().cloned();
        let whole = match last {
            _ if full.is_some() => last.unwrap_or(0),
            _ if source.ended && !open => source.waiting.len(),
            Some(end) => end,
            None if source.ended || looked_at < PART_MOST => 0,
            None => {
                too_long = true;
                source.ended = true;
                source.waiting.clear();
                0
            }
        };
        let mut rest = source.waiting.split_off(whole);
        if full.is_some() {
            if !rest.trim_ascii().is_empty() {
                no_room = full;
                source.ended = true;
            }
            if source.ended {
                rest.clear();
            }
        }
        let piece = std::mem::replace(&mut source.waiting, rest);
        looked_at -= piece.len();
        if !piece.is_empty() {
            let piece = Piece::new(Arc::clone(&parts), piece);
            let (shared, caller) = (source.shared.clone(), Arc::clone(&source.caller));
            on_the_way.push_back(async move { piece.answer(&shared.queue, &caller).await });
        }
        while on_the_way.len() >= AT_ONCE || source.ended {
            let Some((answers, ended)) = on_the_way.next().await else { break };
            spool.append(&answers)?;
            if let Some(problem) = ended {
                tracing::info!(detail = problem.detail, "a stream ended early");
                return end(&*parts, &Ended::Problem(problem), spool);
            }
        }
        if let Some(problem) = no_room {
            return end(&*parts, &Ended::Problem(problem), spool);
        }
        if too_long {
            return end(&*parts, &Ended::PartTooLong, spool);
        }
        if source.ended {
            if !source.waiting.is_empty() {
                let mut answers = Vec::new();
                parts.answer_open(&source.waiting, &mut answers);
                spool.append(&answers)?;
            }
            return Ok(());
        }
    }
}

fn end(parts: &dyn Parts, why: &Ended, spool: &Spool) -> io::Result<()> {
    let mut last = Vec::new();
    parts.end(why, &mut last);
    spool.append(&last)
}
