//! Answers one document.

use super::place::Where;
use crate::file;
use clap::Args;
use std::error::Error;
use std::io::{IsTerminal, Read, Write};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct Ask {
    /// Calculation, for example top-up.
    calculation: String,
    /// File with the document. Default: standard input, which can also be given as -.
    file: Option<PathBuf>,
    #[command(flatten)]
    place: Where,
}

impl Ask {
    pub(super) fn run(self) -> Result<usize, Box<dyn Error>> {
        let client = self.place.client()?;
        if self.place.server.is_none() {
            // Before somebody types a document for it. A server may know others.
            client.service(&self.calculation)?;
        }
        let document = match self.file.filter(|file| file.as_os_str() != "-") {
            Some(file) => file::read(&file)?,
            None => typed()?,
        };
        let answered = client.solve_document(&self.calculation, &document);
        let answered = answered.map_err(|error| self.place.explain(error))?;
        std::io::stdout().write_all(&answered)?;
        println!();
        Ok(0)
    }
}

/// A document from standard input.
fn typed() -> std::io::Result<Vec<u8>> {
    let mut input = std::io::stdin();
    if input.is_terminal() {
        let end = if cfg!(windows) { "Ctrl+Z and Enter" } else { "Ctrl+D" };
        eprintln!("Type or paste the document, and end it with {end}.");
    }
    let mut document = Vec::new();
    input.read_to_end(&mut document)?;
    Ok(document)
}
