//! The command line of the program.

use crate::ask::Client;
use crate::file::{self, FileError};
use crate::lines::{self, AnsweredLines, LinesError};
use crate::over_http::Server;
use crate::rows::{self, AnsweredSheet, Ended, How};
use crate::sheet::Sheet;
use clap::{Args, Parser, Subcommand, ValueEnum};
use indicatif::{ProgressBar, ProgressStyle};
use std::error::Error;
use std::io::{BufReader, IsTerminal, Read, Write};
use std::path::{Path, PathBuf};
use sumpwright_openapi::problem::ProblemKind;
use sumpwright_openapi::service::Extent;

/// Ask Sumpwright about one document or about every row of a spreadsheet.
#[derive(Debug, Parser)]
#[command(version, max_term_width = 100, before_help = EXAMPLES, after_help = FIRST_OF_ALL)]
pub struct ClientCommandLine {
    #[command(subcommand)]
    command: ClientCommand,
}

const EXAMPLES: &str = "\
Examples:
  sumpwright-client rows top-up sumps.csv -o answers.xlsx --units metric
  sumpwright-client rows top-up shop.xlsx --sheet March -o answers.csv --units us
  sumpwright-client rows losses log.csv -o losses.csv --units metric --set sump.capacity=200
  sumpwright-client lines top-up shop.ndjson -o answers.ndjson --minimal
  sumpwright-client ask top-up request.json
  sumpwright-client ask top-up request.json --server http://127.0.0.1:8787";

const FIRST_OF_ALL: &str = "\
Answers are calculations, not permissions: the fluid's safety data sheet, local
codes and licensed practice come first.";

#[derive(Debug, Subcommand)]
enum ClientCommand {
    /// Answer every row of a spreadsheet and write the answers beside the rows.
    Rows(Rows),
    /// Answer a file of documents, a line each, with a line each.
    Lines(DocumentLines),
    /// Answer one document.
    Ask(Ask),
}

/// Where to ask.
#[derive(Debug, Args)]
struct Where {
    /// Address of the server. Default: none; the answers are calculated on this machine
    /// and nothing is sent anywhere.
    #[arg(long, env = "SUMPWRIGHT_SERVER", value_name = "ADDRESS")]
    server: Option<String>,
    /// Key, if the server needs one.
    #[arg(long, env = "SUMPWRIGHT_KEY", hide_env_values = true)]
    key: Option<String>,
    /// Number of times to ask again when the server is too busy or does not answer.
    #[arg(long, value_name = "NUMBER", default_value_t = 6)]
    retries: u32,
}

impl Where {
    fn client(&self) -> Result<Client, Box<dyn Error>> {
        Ok(match &self.server {
            Some(server) => {
                let server = Server::new(server, self.key.clone(), self.retries)?;
                Client::of(server.saying(|text| eprintln!("{text}")))
            }
            None => Client::in_process(),
        })
    }

    /// An error in the words of this program: a key that is missing is a flag here.
    fn explain(&self, error: crate::Error) -> Box<dyn Error> {
        match &error {
            crate::Error::Problem(problem)
                if self.key.is_none() && problem.r#type == ProblemKind::NoKey.address() =>
            {
                "The service needs a key. Say --key KEY, or set SUMPWRIGHT_KEY.".into()
            }
            _ => error.into(),
        }
    }
}

#[derive(Debug, Args)]
struct Rows {
    /// Calculation, for example top-up.
    calculation: String,
    /// Spreadsheet: .csv, .xlsx or .ods. Its first row names the members.
    file: PathBuf,
    /// File to write the answers to: .csv or .xlsx.
    #[arg(short, long, value_name = "FILE")]
    output: PathBuf,
    /// Overwrite the file if it exists.
    #[arg(long)]
    force: bool,
    /// Sheet of a workbook. Default: the first.
    #[arg(long, value_name = "NAME")]
    sheet: Option<String>,
    /// System of units, if no column gives it.
    #[arg(long)]
    units: Option<UnitsArgument>,
    /// Member that is the same for every row, as path=value.
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = pair)]
    everywhere: Vec<(String, String)>,
    /// Number of parts of the table that are asked at the same time.
    #[arg(long, value_name = "NUMBER", default_value_t = 4)]
    at_once: usize,
    #[command(flatten)]
    place: Where,
}

#[derive(Debug, Args)]
struct DocumentLines {
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

#[derive(Debug, Args)]
struct Ask {
    /// Calculation, for example top-up.
    calculation: String,
    /// File with the document. Default: standard input, which can also be given as -.
    file: Option<PathBuf>,
    #[command(flatten)]
    place: Where,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum UnitsArgument {
    Metric,
    Us,
}

fn pair(text: &str) -> Result<(String, String), String> {
    let (path, value) =
        text.split_once('=').ok_or("a path, an equals sign and a value belong here")?;
    Ok((path.to_owned(), value.to_owned()))
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
            ClientCommand::Lines(lines) => lines.run(),
            ClientCommand::Ask(ask) => ask.run(),
        }
    }
}

impl Rows {
    fn run(self) -> Result<usize, Box<dyn Error>> {
        Sheet::check_ending(&self.output)?;
        let lost = ", and writing the answers over it would take its formulas, formats and other \
                    sheets";
        check_output(&self.file, &self.output, self.force, lost)?;
        let sheet = Sheet::read(&self.file, self.sheet.as_deref())?;
        let client = self.place.client()?;
        for said in rows::percentages(&sheet, client.service(&self.calculation)?) {
            eprintln!("{said}");
        }
        let mut everywhere = self.everywhere;
        if let Some(units) = self.units {
            let word = if matches!(units, UnitsArgument::Us) { "us" } else { "metric" };
            everywhere.push(("units".to_owned(), word.to_owned()));
        }
        let how = How { calculation: self.calculation, everywhere, at_once: self.at_once };
        let bar = ProgressBar::new(sheet.rows.len() as u64);
        bar.set_style(ProgressStyle::with_template("{bar:40} {pos} of {len} rows, {eta} to go")?);
        let answered = rows::ask(&client, &sheet, &how, |rows| bar.inc(rows as u64));
        bar.finish_and_clear();
        let answered = answered.map_err(|error| self.place.explain(error))?;
        answered.sheet.write(&self.output)?;
        let left = answered.ended.as_ref().map_or(0, |ended| ended.left);
        eprintln!("{}", said(&answered, &self.output));
        Ok(answered.failed + left)
    }
}

/// What became of the rows.
fn said(answered: &AnsweredSheet, output: &Path) -> String {
    let (asked, output) = (answered.sheet.rows.len(), output.display());
    let rows = if asked == 1 { "row" } else { "rows" };
    match &answered.ended {
        Some(Ended { why, left }) => format!(
            "{why}\n{} of {asked} {rows} were asked, and their answers are in {output}; column \
             problem says which were not.",
            asked - left
        ),
        None if answered.failed == 0 => format!("{asked} {rows} answered, in {output}"),
        None => {
            let (failed, have) =
                (answered.failed, if answered.failed == 1 { "has" } else { "have" });
            format!(
                "{failed} of {asked} {rows} {have} no answer; column problem of {output} says why"
            )
        }
    }
}

/// Refuses a file that must not or cannot be written, before anything is asked. `lost` is what
/// writing over the file that is read would take.
fn check_output(read: &Path, output: &Path, force: bool, lost: &str) -> Result<(), Box<dyn Error>> {
    let shown = output.display();
    if is_same_file(read, output) {
        return Err(format!("{shown} is the file that is read{lost}. Name another file.").into());
    }
    if output.exists() && !force {
        return Err(format!(
            "{shown} is there already. Name another file, or say --force to write over it."
        )
        .into());
    }
    Ok(file::check_writable(output)?)
}

impl DocumentLines {
    fn run(self) -> Result<usize, Box<dyn Error>> {
        if let Some(output) = &self.output {
            check_output(&self.file, output, self.force, "")?;
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

/// Whether two paths lead to one file, by whatever names and links.
fn is_same_file(one: &Path, other: &Path) -> bool {
    match (one.canonicalize(), other.canonicalize()) {
        (Ok(one), Ok(other)) => one == other,
        _ => false,
    }
}

impl Ask {
    fn run(self) -> Result<usize, Box<dyn Error>> {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Cell;

    #[test]
    fn help_begins_with_examples_and_fits_the_screen() {
        for words in ["--help", "-h", "rows --help", "lines --help", "ask -h"] {
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
    fn rows_are_counted_in_words() {
        let said = |rows: usize, failed, left| {
            let sheet = Sheet { rows: vec![vec![Cell::Blank]; rows], ..Sheet::default() };
            let why = || crate::Error::BrokenOff("http://shop".to_owned());
            let ended = (left > 0).then(|| Ended { why: why(), left });
            said(&AnsweredSheet { sheet, failed, ended }, Path::new("o.csv"))
        };
        assert_eq!(said(1, 0, 0), "1 row answered, in o.csv");
        assert_eq!(said(5, 0, 0), "5 rows answered, in o.csv");
        assert_eq!(said(5, 1, 0), "1 of 5 rows has no answer; column problem of o.csv says why");
        let broken_off = said(700, 1, 450);
        assert!(broken_off.starts_with("The service at http://shop did not"), "{broken_off}");
        assert!(broken_off.contains("\n250 of 700 rows were asked"), "{broken_off}");
    }
}
