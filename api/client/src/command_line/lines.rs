//! Answers a file of documents, a line each.

use super::output;
use super::place::Where;
use crate::file::{self, FileError};
use crate::lines::{self, AnsweredLines, LinesError};
use clap::Args;
use std::error::Error;
use std::io::{BufReader, Write};
use std::path::PathBuf;
use sumpwright_openapi::service::Extent;

#[derive(Debug, Args)]
pub(super) struct DocumentLines {
    /// Calculation, for example top-up.
    calculation: String,
    /// File with a document in each line: NDJSON or JSON Lines.
    file: PathBuf,
    /// File to write the answers to, a line each in the same order. Default: standard output.
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Overwrite the file if it exists.
    #[arg(long)]
    force: bool,
    /// Leave out balances and assumptions, and of findings and cautions all but the codes.
    #[arg(long)]
    minimal: bool,
    #[command(flatten)]
    place: Where,
}

impl DocumentLines {
    pub(super) fn run(self) -> Result<usize, Box<dyn Error>> {
        if let Some(output) = &self.output {
            output::check(Some(&self.file), output, self.force, "")?;
        }
        let client = self.place.client()?;
        if self.place.server.is_none() {
            client.service(&self.calculation)?;
        }
        let documents = BufReader::new(file::open(&self.file)?);
        let answers = || -> Result<Box<dyn Write>, FileError> {
            Ok(match &self.output {
                Some(output) => Box::new(file::create(output)?),
                None => Box::new(std::io::stdout().lock()),
            })
        };
        let extent = if self.minimal { Extent::Minimal } else { Extent::Record };
        let answered = lines::ask(&client, &self.calculation, extent, documents, answers);
        let answered = answered.map_err(|error| match error {
            LinesError::Ask(error) => self.place.explain(error),
            error => error.into(),
        })?;
        eprintln!("{}", said_of_lines(answered));
        Ok(answered.failed)
    }
}

/// What became of the lines.
fn said_of_lines(answered: AnsweredLines) -> String {
    let AnsweredLines { asked, failed } = answered;
    let documents = if asked == 1 { "document" } else { "documents" };
    match failed {
        0 => format!("{asked} {documents} answered"),
        1 => format!("1 of {asked} {documents} has no answer; its line says why"),
        _ => format!("{failed} of {asked} {documents} have no answer; their lines say why"),
    }
}
