//! Why there is no answer, whoever was asked.

use sumpwright_openapi::problem::Problem;

/// Why there is no answer.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The question has no answer, and this is why.
    #[error("{}", .0.in_a_cell())]
    Problem(Box<Problem>),
    /// The server could not be asked.
    #[error("the server could not be asked: {0}")]
    Transport(#[from] reqwest::Error),
    /// Something came back that is no answer.
    #[error("the server sent something that is no answer: {0}")]
    NotAnAnswer(String),
    /// There is no calculation of this name.
    #[error("{0}")]
    Unknown(String),
}

impl From<Problem> for Error {
    fn from(problem: Problem) -> Self {
        Self::Problem(Box::new(problem))
    }
}
