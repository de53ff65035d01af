//! What a calculation is: a question, and the outcome of answering it.
//!
//! A question is a struct, and the struct is the definition: its fields, their
//! docs and their quantities are read by generic code into the route, the flat
//! form, the schema, the error pointers and the tests.

use crate::dated::ListEvents;
use crate::fluid::balance::Balance;
use crate::job_sheet::MakeSheet;
use crate::picture::Picture;
use crate::sentence;
use crate::text::{Assumption, Refusal, Sentence};
pub use crate::text::{Caution, Finding, Severity};
use serde::Serialize;
use serde::de::DeserializeOwned;
use utoipa::ToSchema;

/// A question that the service answers.
pub trait Calculation: Serialize + DeserializeOwned + ToSchema + 'static {
    /// Its name on the wire, in kebab case.
    const NAME: &'static str;
    /// What it answers, in a line for a technician.
    const SUMMARY: &'static str;
    /// A complete request, envelope included, that works as it stands.
    const EXAMPLE: &'static str;
    /// What it answers with.
    type Answer: Serialize + DeserializeOwned + ToSchema;
    /// The list that the question is, where it is one list: a table sent to it is
    /// then that list, a row an entry.
    const LIST: Option<&'static str> = None;
    /// The list of the answer that a table of the question's list is answered with, a row an entry;
    /// without one it is answered with every value by its path.
    const ANSWER_LIST: Option<&'static str> = None;
    /// Whether a short question is answered in microseconds, so that nobody has to
    /// wait behind it.
    const IS_QUICK: bool = false;
    /// Whether its documents come by the thousand, one for each machine, so that they are read straight
    /// from their bytes.
    const COMES_IN_STREAMS: bool = Self::IS_QUICK;
    /// How its answer is drawn, where it can be.
    const PICTURES: Option<DrawPictures<Self>> = None;
    /// How the job sheet of its answer is made, where somebody does what it says.
    const SHEET: Option<MakeSheet<Self, Self::Answer>> = None;
    /// How what its answer dates is listed, where something is to be done on certain days.
    const EVENTS: Option<ListEvents<Self, Self::Answer>> = None;

    /// Answers the question or says why it has no answer.
    fn calculate(&self) -> Result<Outcome<Self::Answer>, Refusal>;

    /// The answer in one or two sentences with practical numbers: what the person who
    /// asked is to know or to do first. [`Outcome::statement`] is what that person is told.
    fn statement(&self, answer: &Self::Answer) -> Sentence;

    /// How much work it will be to answer it, beside reading it: in handled numbers, each the half
    /// of a microsecond or so. Said by its own sizes before anything is calculated, and never by a
    /// clock: by it a question waits among the small ones or among the large ones. The question
    /// need not be right.
    fn work_ahead(&self) -> usize {
        0
    }

    /// How much work it was to come from the question to `answer`, beside reading the one
    /// and writing the other, in the same measure. Said by what is gone through again and again
    /// inside, so that the same question is always drawn as often.
    fn work(&self, answer: &Self::Answer) -> usize {
        let _ = answer;
        0
    }
}

/// Draws an answer, the picture that says most first; none where there is nothing to draw in it.
pub type DrawPictures<C> = fn(&C, &<C as Calculation>::Answer) -> Vec<Picture>;

/// An answer with what stands behind it and what to beware of, as far as that is
/// [asked for](crate::text::telling).
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome<Answer> {
    /// The calculation's own result.
    pub answer: Answer,
    /// What to look at first, the worst first.
    pub findings: Vec<Finding>,
    /// The material balance behind it; none where no material moves.
    pub balance: Option<Balance>,
    /// What was taken for granted because the request did not say.
    pub assumptions: Vec<Assumption>,
    /// What can hurt a person, a machine or the environment in doing it.
    pub cautions: Vec<Caution>,
}

impl<Answer> Outcome<Answer> {
    /// The statement of this answer to `question`. What doubts an entry comes first, for
    /// whoever sees nothing else of the answer.
    pub fn statement<C: Calculation<Answer = Answer>>(&self, question: &C) -> Sentence {
        let statement = question.statement(&self.answer);
        match self.findings.iter().find(|finding| finding.is_doubt()) {
            Some(doubt) => sentence!("{} If it is right: {}", doubt.text.clone(), statement),
            None => statement,
        }
    }
}
