//! Stores the answer to a stream for a caller that may read slowly.

use actix_web::web;
use futures_util::stream;
use std::cell::RefCell;
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::rc::Rc;
use std::sync::Arc;
use tempfile::SpooledTempFile;
use tokio::sync::Notify;

/// Number of bytes of the answer kept in memory before it goes into a file.
const IN_MEMORY: usize = 1024 * 1024;
/// Number of bytes handed to the caller at a time.
const HANDFUL: usize = 64 * 1024;

/// The part of the answer that has not been read yet.
pub(super) struct Spool {
    state: RefCell<Spooled>,
    changed: Notify,
    /// Held until the stream has been completely answered and read.
    _under_way: Arc<()>,
}

struct Spooled {
    file: SpooledTempFile,
    written: u64,
    read: u64,
    ended: bool,
    broken: bool,
}

impl Spool {
    pub(super) fn new(under_way: Arc<()>) -> Self {
        let file = SpooledTempFile::new(IN_MEMORY);
        let state = Spooled { file, written: 0, read: 0, ended: false, broken: false };
        Self { state: RefCell::new(state), changed: Notify::new(), _under_way: under_way }
    }

    pub(super) fn append(&self, answers: &[u8]) -> io::Result<()> {
        let mut state = self.state.borrow_mut();
        if state.read == state.written {
            // A caller that keeps up is served from memory.
            state.file.set_len(0)?;
            (state.read, state.written) = (0, 0);
        }
        let end = state.written;
        state.file.seek(SeekFrom::Start(end))?;
        state.file.write_all(answers)?;
        state.written += answers.len() as u64;
        drop(state);
        self.changed.notify_one();
        Ok(())
    }

    pub(super) fn end(&self, broken: bool) {
        let mut state = self.state.borrow_mut();
        state.ended = true;
        state.broken = broken;
        drop(state);
        self.changed.notify_one();
    }

    /// The next bytes, if there are any yet; an error if the answer breaks off, so that
    /// nobody mistakes it for a complete one.
    fn take(&self) -> io::Result<Option<web::Bytes>> {
        let mut state = self.state.borrow_mut();
        let (from, to) = (state.read, state.written);
        if from == to {
            return if state.broken {
                Err(io::Error::other("the answer breaks off"))
            } else {
                Ok(None)
            };
        }
        let length = usize::try_from(to - from).map_or(HANDFUL, |waiting| waiting.min(HANDFUL));
        let mut handful = Vec::with_capacity(length);
        state.file.seek(SeekFrom::Start(from))?;
        (&mut state.file).take(length as u64).read_to_end(&mut handful)?;
        if handful.len() < length {
            return Err(io::ErrorKind::UnexpectedEof.into());
        }
        state.read += length as u64;
        Ok(Some(handful.into()))
    }
}

/// The answer as a stream.
pub(super) fn reading(spool: Rc<Spool>) -> impl stream::Stream<Item = io::Result<web::Bytes>> {
    stream::unfold(Some(spool), |spool| async {
        let spool = spool?;
        loop {
            match spool.take() {
                Ok(Some(handful)) => return Some((Ok(handful), Some(spool))),
                Err(error) => return Some((Err(error), None)),
                Ok(None) if spool.state.borrow().ended => return None,
                Ok(None) => spool.changed.notified().await,
            }
        }
    })
}
