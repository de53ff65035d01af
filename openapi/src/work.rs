//! How much work it is to answer a document, known before it is answered: by it, the document waits among
//! the small ones or among the large ones.
//!
//! **A document says how much work it is by its own sizes**, as its calculation counts them
//! (`Calculation::work_ahead`), times the draws where it asks how sure the answer is. To know that, a document of an
//! ordinary length is read, which takes far less than answering it; a very long one is large by its length.

use crate::flat;
use crate::guarded::guarded;
use crate::request::envelope::asks_how_sure;
use crate::request::problem::Problem;
use crate::request::tree;
use crate::service::Service;
use serde_json::Value;

/// How much work it is to answer a document.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// Microseconds: nobody has to wait behind it.
    Quick,
    /// A fraction of a second.
    Small,
    /// More than that.
    Large,
}

/// Handled numbers of a small document at most, each the half of a microsecond or so.
const SMALL_MOST: usize = 500_000;
/// Documents longer than this are large by their length.
const READ_MOST: usize = 64 * 1024;
/// Tables that are one list are large beyond this length.
const LIST_MOST: usize = 16 * 1024;

impl Service {
    /// How much work it is to answer a document.
    #[must_use]
    pub fn work(&self, bytes: &[u8]) -> Work {
        if !self.takes_long(bytes) {
            return Work::Quick;
        }
        if bytes.len() > READ_MOST {
            return Work::Large;
        }
        self.by_what_is_handled(|| tree::parse(bytes))
    }

    /// The same of a document in its flat form.
    pub fn work_of_members<'a>(
        &self,
        members: impl Iterator<Item = (&'a str, &'a str)> + Clone,
    ) -> Work {
        if !self.paths_take_long(members.clone().map(|(path, _)| path)) {
            return Work::Quick;
        }
        self.by_what_is_handled(|| flat::unflatten(members, &self.question))
    }

    /// The same of a table of so many bytes that is one list, with what its query says besides.
    pub fn work_of_list<'a>(&self, bytes: usize, query: impl Iterator<Item = &'a str>) -> Work {
        let is_large = bytes > LIST_MOST || asks_how_sure(query);
        if is_large { Work::Large } else { Work::Small }
    }

    /// The same of the first rows of a table, whose query says this for all of them.
    pub fn work_of_first_rows<'a>(&self, query: impl Iterator<Item = &'a str>) -> Work {
        if self.paths_take_long(query) { Work::Large } else { Work::Small }
    }

    fn by_what_is_handled(&self, read: impl FnOnce() -> Result<Value, Problem>) -> Work {
        let handled = guarded(|| self.handled(read()?));
        // What is refused is refused soon.
        if handled.unwrap_or(0) > SMALL_MOST { Work::Large } else { Work::Small }
    }
}
