//! Why there is no answer, whoever was asked.

use sumpwright_openapi::problem::Problem;

/// Why there is no answer.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The question has no answer, and this is why.
    #[error("{}", .0.in_lines())]
    Problem(Box<Problem>),
    /// What was given as the address of a server is none.
    #[error(
        "{0:?} is not the address of a server. An address begins with http:// or https://, as in \
         http://127.0.0.1:8787."
    )]
    Address(String),
    /// What was given as a key is none.
    #[error("The key has a character that no key has: a blank, or a letter beyond ASCII.")]
    Key,
    /// Nothing listens at the address of the server.
    #[error("Nobody answers at {0}. Is the service running there?")]
    NobodyAnswers(String),
    /// The server ended the connection before its answer was whole.
    #[error("The service at {0} did not answer to the end. Is it still running there?")]
    BrokenOff(String),
    /// The server could not be asked.
    #[error("The service at {0} could not be asked: {1}.")]
    Transport(String, String),
    /// Something came back that is no answer.
    #[error("What came back is not an answer of the service: {0}.")]
    NotAnAnswer(String),
    /// The headings of a sheet are not those of a table.
    #[error("{0}")]
    Sheet(String),
    /// There is no calculation of this name.
    #[error("{0}")]
    Unknown(String),
}

impl From<Problem> for Error {
    fn from(problem: Problem) -> Self {
        Self::Problem(Box::new(problem))
    }
}
