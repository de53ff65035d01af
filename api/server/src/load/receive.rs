//! Receives documents from callers that may be slow.

use crate::configuration::Configuration;
use actix_web::HttpRequest;
use actix_web::http::header;
use actix_web::web::{Bytes, BytesMut, Payload};
use futures_util::StreamExt;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use tokio::time::timeout;

/// Maximum length of a single document, in bytes.
pub const DOCUMENT_MOST: usize = 8 * 1024 * 1024;
/// Maximum number of bytes held of documents that are still arriving, for all
/// callers together.
pub(crate) const HELD_MOST: usize = 256 * 1024 * 1024;

/// The documents that are arriving.
pub struct Receiving {
    held: AtomicUsize,
    within: Duration,
}

/// Counts bytes that are held, until dropped.
struct HeldBytes<'a> {
    all: &'a AtomicUsize,
    own: usize,
}

impl HeldBytes<'_> {
    fn add(&mut self, more: usize) -> Result<(), Problem> {
        self.own += more;
        let before = self.all.fetch_add(more, Ordering::Relaxed);
        if before + more > HELD_MOST {
            let detail = "Too many documents are arriving at the same time. Send yours again in \
                          a moment.";
            return Err(Problem::plain(ProblemKind::TooBusy, detail));
        }
        Ok(())
    }
}

impl Drop for HeldBytes<'_> {
    fn drop(&mut self) {
        self.all.fetch_sub(self.own, Ordering::Relaxed);
    }
}

impl Receiving {
    /// A receiver with the time limit of the configuration.
    #[must_use]
    pub fn of(configuration: &Configuration) -> Self {
        Self { held: AtomicUsize::new(0), within: configuration.receive_within() }
    }

    /// Receives a whole document.
    pub async fn document(
        &self,
        request: &HttpRequest,
        payload: Payload,
    ) -> Result<Bytes, Problem> {
        let length = request.headers().get(header::CONTENT_LENGTH);
        let length = length.and_then(|length| length.to_str().ok()?.parse::<usize>().ok());
        if length.is_some_and(|length| length > DOCUMENT_MOST) {
            return Err(too_large());
        }
        match timeout(self.within, self.whole(payload)).await {
            Ok(arrived) => arrived,
            Err(_) => Err(self.too_slow()),
        }
    }

    async fn whole(&self, mut payload: Payload) -> Result<Bytes, Problem> {
        let mut held = HeldBytes { all: &self.held, own: 0 };
        // Usually there is only one part, which is returned without copying.
        let mut first = Bytes::new();
        let mut whole = BytesMut::new();
        while let Some(part) = payload.next().await {
            let part = part.map_err(|_| {
                let detail = "The document did not arrive completely. Send it again.";
                Problem::plain(ProblemKind::Malformed, detail)
            })?;
            held.add(part.len())?;
            if held.own > DOCUMENT_MOST {
                return Err(too_large());
            }
            if first.is_empty() {
                first = part;
                continue;
            }
            if whole.is_empty() {
                whole.extend_from_slice(&first);
            }
            whole.extend_from_slice(&part);
        }
        Ok(if whole.is_empty() { first } else { whole.freeze() })
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
