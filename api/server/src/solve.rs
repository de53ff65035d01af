//! A document or a table answered in the terminal, without a server.

use crate::http::format::Format;
use crate::http::options::AnswerOptions;
use crate::http::render;
use clap::Args;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use std::io::{self, ErrorKind, IsTerminal, Read, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use sumpwright_openapi::problem::Problem;
use sumpwright_openapi::service::Services;
use sumpwright_openapi::table::{PROBLEM_COLUMN, TableOptions, answer_whole};

/// What to answer.
#[derive(Debug, Args)]
pub struct Solve {
    /// Calculation, as listed at /v1, for example top-up.
    calculation: String,
    /// File with the document (JSON), or with a table whose rows are documents (a name that
    /// ends in .csv; answered as CSV). Use - for a document from standard input.
    file: PathBuf,
    /// Format of the answer to a document.
    #[arg(long, value_name = "FORMAT", default_value = "json", value_parser = formats())]
    format: Format,
    /// System of units of a table, if no column gives it.
    #[arg(long, value_parser = ["metric", "us"])]
    units: Option<String>,
    /// Member that is the same for every row of a table, as path=value.
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = pair)]
    everywhere: Vec<(String, String)>,
    /// Print a problem as JSON (RFC 9457), for programs. Default: as sentences.
    #[arg(long)]
    json: bool,
}

fn formats() -> impl TypedValueParser<Value = Format> {
    let names = Format::NAMED.map(|(name, _)| name);
    PossibleValuesParser::new(names).try_map(|name| {
        let named = Format::NAMED.iter().find(|(known, _)| *known == name);
        named.map(|(_, format)| *format).ok_or("there is no such format")
    })
}

fn pair(text: &str) -> Result<(String, String), String> {
    let (path, value) =
        text.split_once('=').ok_or("a path, an equals sign and a value belong here")?;
    Ok((path.to_owned(), value.to_owned()))
}

/// Answers a document or a table. A table of which a row has no answer is written, and is a failure.
pub fn solve(services: &Services, question: &Solve) -> io::Result<ExitCode> {
    match answer(services, question)? {
        Ok(answer) => {
            let mut out = io::stdout();
            out.write_all(&answer)?;
            if !answer.ends_with(b"\n") {
                out.write_all(b"\n")?;
            }
            let Some(first) = is_table(&question.file).then(|| unanswered(&answer)).flatten()
            else {
                return Ok(ExitCode::SUCCESS);
            };
            writeln!(io::stderr(), "{first}")?;
            Ok(ExitCode::FAILURE)
        }
        Err(problem) => {
            let said = if question.json {
                serde_json::to_string_pretty(&problem)?
            } else {
                problem.in_lines()
            };
            writeln!(io::stderr(), "{said}")?;
            Ok(ExitCode::FAILURE)
        }
    }
}

fn answer(services: &Services, question: &Solve) -> io::Result<Result<Vec<u8>, Problem>> {
    let Solve { calculation, file, format, .. } = question;
    // Before somebody types a document for it.
    let Some(service) = services.get(calculation) else {
        return Ok(Err(services.unknown(calculation)));
    };
    let document = read(file)?;
    if is_table(file) {
        let units = question.units.iter().map(|units| ("units".to_owned(), units.clone()));
        let everywhere = units.chain(question.everywhere.iter().cloned()).collect();
        let options = TableOptions { everywhere, ..TableOptions::default() };
        return Ok(answer_whole(service, &document, &options));
    }
    if question.units.is_some() || !question.everywhere.is_empty() {
        let detail = "--units and --set are for a table (.csv); a document says all of it itself.";
        return Err(io::Error::new(ErrorKind::InvalidInput, detail));
    }
    let answered = render::of_document(service, &document, &AnswerOptions::plain(*format));
    Ok(match answered {
        Ok(answer) if *format == Format::Json => {
            let record: serde_json::Value = serde_json::from_slice(&answer)?;
            Ok(format!("{record:#}").into_bytes())
        }
        answered => answered,
    })
}

fn is_table(file: &Path) -> bool {
    file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"))
}

/// How many rows of an answered table have no answer, and why the first of them has none.
fn unanswered(answered: &[u8]) -> Option<String> {
    let headings = answered.split(|byte| *byte == b'\n').next()?;
    let own = PROBLEM_COLUMN.as_bytes();
    let before = headings.trim_ascii_end().strip_suffix(own)?;
    let mut table = csv::ReaderBuilder::new();
    let mut table = table.delimiter(*before.last()?).flexible(true).from_reader(answered);
    let (mut rows, mut without, mut first) = (0_usize, 0_usize, None);
    for row in table.byte_records().flatten() {
        rows += 1;
        if let Some(why) = row.iter().next_back().filter(|why| !why.is_empty()) {
            without += 1;
            first.get_or_insert_with(|| String::from_utf8_lossy(why).into_owned());
        }
    }
    let first = first?;
    Some(format!("There is no answer to {without} of {rows} rows. The first of them: {first}"))
}

fn read(file: &Path) -> io::Result<Vec<u8>> {
    if file.as_os_str() != "-" {
        return std::fs::read(file).map_err(|error| unreadable(file, &error));
    }
    if io::stdin().is_terminal() {
        let end = if cfg!(windows) { "Ctrl+Z and Enter" } else { "Ctrl+D" };
        writeln!(io::stderr(), "Type or paste the document, and end it with {end}.")?;
    }
    let mut document = Vec::new();
    io::stdin().read_to_end(&mut document)?;
    Ok(document)
}

fn unreadable(file: &Path, error: &io::Error) -> io::Error {
    let file = file.display();
    let detail = match error.kind() {
        ErrorKind::NotFound => format!("There is no file {file}."),
        _ => format!("{file} cannot be read: {error}."),
    };
    io::Error::new(error.kind(), detail)
}
