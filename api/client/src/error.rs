//! The reasons why there is no answer.

use sumpwright_openapi::problem::Problem;

/// The reason why there is no answer.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The question has no answer; the problem says why.
    #[error("{}", .0.in_a_cell())]
    Problem(Box<Problem>),
    /// The server could not be asked.
    #[error("the server could not be asked: {0}")]
    Transport(#[from] reqwest::Error),
    /// The server's response is not an answer.
    #[error("the server sent something that is no answer: {0}")]
    NotAnAnswer(String),
    /// No calculation has this name.
    #[error("{0}")]
    Unknown(String),
}

impl From<Problem> for Error {
    fn from(problem: Problem) -> Self {
        Self::Problem(Box::new(problem))
    }
}
