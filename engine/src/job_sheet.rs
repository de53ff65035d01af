//! What somebody does to carry out an answer, as data: parts of steps, each to be ticked
//! off. How it looks on paper is the border's affair.

use crate::text::Sentence;

/// What there is to do, in order.
#[derive(Debug, Clone, PartialEq)]
pub struct JobSheet {
    /// The parts, in order; none where there is nothing to do.
    pub parts: Vec<SheetPart>,
    /// What holds for many of the steps, and is said once.
    pub notes: Vec<Sentence>,
    /// What is written down by hand.
    pub records: SheetRecords,
}

/// Steps that belong together: a batch, a trip, a week.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetPart {
    /// What they are about, readable by itself; none where the sheet is about nothing else.
    pub heading: Option<Sentence>,
    /// The steps, in order.
    pub tasks: Vec<SheetTask>,
}

/// A step to tick off.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetTask {
    /// The machine that it is done at, or the time at which it is done.
    pub place: Option<String>,
    /// What to do.
    pub text: Sentence,
    /// How often it is done, each time ticked off.
    pub times: usize,
    /// Whether an instrument is read, and the reading written down beside it.
    pub is_read: bool,
}

/// What is written down by hand, beside date, name and signature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetRecords {
    /// The job is done once, and nothing is read but at the steps themselves.
    Once,
    /// It is done once, and an instrument is read before and after it.
    BeforeAndAfter,
    /// It is done again and again: a line for each time, with its reading.
    EachTime,
}

/// Makes the job sheet of an answer.
pub type MakeSheet<Question, Answer> = fn(&Question, &Answer) -> JobSheet;

impl SheetTask {
    /// A step that is done once.
    #[must_use]
    pub const fn of(text: Sentence) -> Self {
        Self { place: None, text, times: 1, is_read: false }
    }

    /// The same at a machine or a time.
    #[must_use]
    pub fn at(self, place: impl Into<String>) -> Self {
        Self { place: Some(place.into()), ..self }
    }

    /// The same with a reading to write down.
    #[must_use]
    pub fn read(self) -> Self {
        Self { is_read: true, ..self }
    }
}

impl SheetPart {
    /// Steps without a heading.
    #[must_use]
    pub const fn plain(tasks: Vec<SheetTask>) -> Self {
        Self { heading: None, tasks }
    }

    /// Steps under a heading.
    #[must_use]
    pub const fn headed(heading: Sentence, tasks: Vec<SheetTask>) -> Self {
        Self { heading: Some(heading), tasks }
    }
}
