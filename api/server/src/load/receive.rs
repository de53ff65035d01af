//! Receives documents from callers that may be slow.

use crate::configuration::Configuration;
use actix_web::HttpRequest;
use actix_web::http::header;
use actix_web::web::{Bytes, BytesMut, Payload};
use futures_util::StreamExt;
use std::collections::HashMap;
use std::ops::Deref;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use tokio::time::timeout;

/// Maximum length of a single document, in bytes.
pub const DOCUMENT_MOST: usize = 8 * 1024 * 1024;
/// Maximum number of bytes held of long documents that are arriving, waiting or being answered, for all
/// callers together.
pub(crate) const HELD_MOST: usize = 256 * 1024 * 1024;
/// The same for one caller.
const HELD_MOST_EACH: usize = HELD_MOST / 2;
/// So many bytes of each document are not counted: no number of long documents keeps an ordinary one out.
const NOT_COUNTED: usize = 16 * 1024;

/// The documents that are arriving.
pub struct Receiving {
    held: Arc<Mutex<Held>>,
    within: Duration,
}

/// The bytes that are held of long documents: of all callers together, and of each.
#[derive(Default)]
struct Held {
    all: usize,
    of_each: HashMap<Arc<str>, usize>,
}

/// A whole document. Its bytes count as held until it is dropped, which is when it has been answered.
pub struct Received {
    bytes: Bytes,
    _held: HeldBytes,
}

impl Deref for Received {
    type Target = [u8];

    fn deref(&self) -> &[u8] {
        &self.bytes
    }
}

/// Counts the bytes of a document, until dropped.
struct HeldBytes {
    held: Arc<Mutex<Held>>,
    caller: Arc<str>,
    arrived: usize,
    counted: usize,
}

impl HeldBytes {
    fn add(&mut self, arrived: usize) -> Result<(), Problem> {
        self.arrived += arrived;
        let more = self.arrived.saturating_sub(NOT_COUNTED) - self.counted;
        if more == 0 {
            return Ok(());
        }
        let mut held = locked(&self.held);
        let all = held.all + more;
        let own = held.of_each.entry(Arc::clone(&self.caller)).or_default();
        if all > HELD_MOST || *own + more > HELD_MOST_EACH {
            let detail = "Too many long documents are arriving or waiting at the same time. Send \
                          yours again in a moment.";
            return Err(Problem::plain(ProblemKind::TooBusy, detail));
        }
        *own += more;
        held.all = all;
        self.counted += more;
        Ok(())
    }
}

impl Drop for HeldBytes {
    fn drop(&mut self) {
        let mut held = locked(&self.held);
        held.all -= self.counted;
        if let Some(own) = held.of_each.get_mut(&self.caller) {
            *own -= self.counted;
            if *own == 0 {
                held.of_each.remove(&self.caller);
            }
        }
    }
}

fn locked(held: &Mutex<Held>) -> MutexGuard<'_, Held> {
    held.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Receiving {
    /// A receiver with the time limit of the configuration.
    #[must_use]
    pub fn of(configuration: &Configuration) -> Self {
        Self { held: Arc::default(), within: configuration.receive_within() }
    }

    /// Receives a whole document of a caller.
    pub async fn document(
        &self,
        caller: Arc<str>,
        request: &HttpRequest,
        payload: Payload,
    ) -> Result<Received, Problem> {
        let length = request.headers().get(header::CONTENT_LENGTH);
        let length = length.and_then(|length| length.to_str().ok()?.parse::<usize>().ok());
        if length.is_some_and(|length| length > DOCUMENT_MOST) {
            return Err(too_large());
        }
        match timeout(self.within, self.whole(caller, length, payload)).await {
            Ok(arrived) => arrived,
            Err(_) => Err(self.too_slow()),
        }
    }

    async fn whole(
        &self,
        caller: Arc<str>,
        length: Option<usize>,
        mut payload: Payload,
    ) -> Result<Received, Problem> {
        let mut held = HeldBytes { held: Arc::clone(&self.held), caller, arrived: 0, counted: 0 };
        // Usually there is only one part, which is returned without copying.
        let mut first = Bytes::new();
        let mut whole = BytesMut::new();
        while let Some(part) = payload.next().await {
            let part = part.map_err(|_| {
                let detail = "The document did not arrive completely. Send it again.";
                Problem::plain(ProblemKind::Malformed, detail)
            })?;
            held.add(part.len())?;
            if held.arrived > DOCUMENT_MOST {
                return Err(too_large());
            }
            if first.is_empty() {
                first = part;
                continue;
            }
            if whole.is_empty() {
                whole.reserve(length.unwrap_or(0));
                whole.extend_from_slice(&first);
            }
            whole.extend_from_slice(&part);
        }
        let bytes = if whole.is_empty() { first } else { whole.freeze() };
        Ok(Received { bytes, _held: held })
    }

    /// The next part of a table, until it ends.
    pub(crate) async fn part(&self, payload: &mut Payload) -> Result<Option<Bytes>, Problem> {
        match timeout(self.within, payload.next()).await {
            Ok(Some(Ok(part))) => Ok(Some(part)),
            Ok(Some(Err(_))) => {
                let detail = "The table did not arrive completely. Send it again.";
                Err(Problem::plain(ProblemKind::Malformed, detail))
            }
            Ok(None) => Ok(None),
            Err(_) => Err(self.too_slow()),
        }
    }

    fn too_slow(&self) -> Problem {
        let detail = format!(
            "The rest of the request did not arrive within {} s. Send the request again without a \
             pause.",
            self.within.as_secs()
        );
        Problem::plain(ProblemKind::TooSlow, detail)
    }
}

fn too_large() -> Problem {
    let detail = "The document is longer than 8 MiB, the maximum. Send less, or \
                  several documents.";
    Problem::plain(ProblemKind::TooLarge, detail)
}
