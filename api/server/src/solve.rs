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
use sumpwright_openapi::table::{TableOptions, answer_whole};

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

/// Answers a document or a table.
pub fn solve(services: &Services, question: &Solve) -> io::Result<ExitCode> {
    match answer(services, question)? {
        Ok(answer) => {
            let mut out = io::stdout();
            out.write_all(&answer)?;
            if !answer.ends_with(b"\n") {
                out.write_all(b"\n")?;
            }
            Ok(ExitCode::SUCCESS)
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
    if file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv")) {
        return Ok(answer_whole(service, &document, &TableOptions::default()));
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
