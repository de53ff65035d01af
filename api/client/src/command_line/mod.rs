//! The command line of the program.

mod ask;
mod lines;
mod output;
mod place;
mod rows;
mod template;

use ask::Ask;
use clap::{Parser, Subcommand, ValueEnum};
use lines::DocumentLines;
use rows::Rows;
use std::error::Error;
use template::Template;

/// Ask Sumpwright about one document or about every row of a spreadsheet.
#[derive(Debug, Parser)]
#[command(version, max_term_width = 100, before_help = EXAMPLES, after_help = FIRST_OF_ALL)]
pub struct ClientCommandLine {
    #[command(subcommand)]
    command: ClientCommand,
}

const EXAMPLES: &str = "\
Examples:
  sumpwright-client template top-up -o sumps.xlsx
  sumpwright-client rows top-up sumps.xlsx -o answers.xlsx
  sumpwright-client rows top-up shop.xlsx --sheet March --new-sheet Answers --units us
  sumpwright-client rows losses log.csv -o losses.csv --units metric --set sump.capacity=200
  sumpwright-client lines top-up shop.ndjson -o answers.ndjson --minimal
  sumpwright-client ask top-up request.json --server http://127.0.0.1:8787";

const FIRST_OF_ALL: &str = "\
Answers are calculations, not permissions: the fluid's safety data sheet, local
codes and licensed practice come first.";

#[derive(Debug, Subcommand)]
enum ClientCommand {
    /// Answer every row of a spreadsheet and write the answers beside the rows.
    ///
    /// The rows of a log, as `losses` has one, are one question: its answer is written as names
    /// and values. The file that is read stays as it is, unless it is told to get a new sheet.
    Rows(Rows),
    /// Make a spreadsheet to fill in, with headings, units and an example row.
    Template(Template),
    /// Answer a file of documents, a line each, with a line each.
    Lines(DocumentLines),
    /// Answer one document.
    Ask(Ask),
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum UnitsArgument {
    Metric,
    Us,
}

impl UnitsArgument {
    fn word(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Us => "us",
        }
    }
}

impl ClientCommandLine {
    /// Does what the command line says: how many rows or lines have no answer.
    ///
    /// # Errors
    ///
    /// When a file cannot be read or written, or there is no answer at all.
    pub fn run(self) -> Result<usize, Box<dyn Error>> {
        match self.command {
            ClientCommand::Rows(rows) => rows.run(),
            ClientCommand::Template(template) => template.run(),
            ClientCommand::Lines(lines) => lines.run(),
            ClientCommand::Ask(ask) => ask.run(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn help_begins_with_examples_and_fits_the_screen() {
        for words in ["--help", "-h", "rows --help", "template --help", "lines --help", "ask -h"] {
            let words = ["sumpwright-client"].into_iter().chain(words.split(' '));
            let help =
                ClientCommandLine::try_parse_from(words).expect_err("it is help").to_string();
            if help.contains("Commands:") {
                assert!(help.starts_with("Examples:\n"), "{help}");
            }
            let long = help.lines().find(|line| line.chars().count() > 100);
            assert_eq!(long, None, "{help}");
        }
    }

    #[test]
    fn the_examples_of_the_help_are_sound() {
        for line in EXAMPLES.lines().skip(1) {
            ClientCommandLine::try_parse_from(line.split_whitespace()).expect(line);
        }
    }
}
