//! What the program can be told.

use crate::ask::Client;
use crate::over_http::Server;
use crate::rows::{self, How};
use crate::sheet::Sheet;
use clap::{Args, Parser, Subcommand, ValueEnum};
use indicatif::{ProgressBar, ProgressStyle};
use std::error::Error;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

/// Asks Sumpwright: for a document, or for the rows of a spreadsheet.
#[derive(Debug, Parser)]
#[command(version)]
pub struct CommandLine {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Answers every row of a spreadsheet and writes the answers beside the rows.
    Rows(Rows),
    /// Answers one document.
    Ask(Ask),
}

/// Where to ask.
#[derive(Debug, Args)]
struct Where {
    /// The server's address; without it the answers are computed here, and
    /// nothing is sent anywhere.
    #[arg(long, env = "SUMPWRIGHT_SERVER")]
    server: Option<String>,
    /// The key, where the server wants one.
    #[arg(long, env = "SUMPWRIGHT_KEY", hide_env_values = true)]
    key: Option<String>,
    /// How often to ask again when the server is too busy.
    #[arg(long, default_value_t = 6)]
    retries: u32,
}

impl Where {
    fn client(&self) -> Result<Client, Box<dyn Error>> {
        Ok(match &self.server {
            Some(server) => Client::of(Server::new(server, self.key.clone(), self.retries)?),
            None => Client::in_process(),
        })
    }
}

#[derive(Debug, Args)]
struct Rows {
    /// The calculation: top-up, concentration …
    calculation: String,
    /// The spreadsheet: .csv, .xlsx or .ods. Its first row names the members.
    file: PathBuf,
    /// Where to write the answers: .csv or .xlsx.
    #[arg(short, long)]
    output: PathBuf,
    /// Writes over a file that is there already.
    #[arg(long)]
    force: bool,
    /// The sheet of a workbook; the first when left out.
    #[arg(long)]
    sheet: Option<String>,
    /// The system of units, where no column names it.
    #[arg(long)]
    units: Option<Units>,
    /// A member that is the same for every row, as path=value.
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = pair)]
    everywhere: Vec<(String, String)>,
    /// How many pieces of the table are asked at once.
    #[arg(long, default_value_t = 4)]
    at_once: usize,
    #[command(flatten)]
    place: Where,
}

#[derive(Debug, Args)]
struct Ask {
    /// The calculation: top-up, concentration …
    calculation: String,
    /// The document; - or nothing for standard input.
    file: Option<PathBuf>,
    #[command(flatten)]
    place: Where,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Units {
    Metric,
    Us,
}

fn pair(text: &str) -> Result<(String, String), String> {
    let (path, value) =
        text.split_once('=').ok_or("a path, an equals sign and a value belong here")?;
    Ok((path.to_owned(), value.to_owned()))
}

impl CommandLine {
    /// Does what the command line says: how many rows have no answer.
    ///
    /// # Errors
    ///
    /// When a file cannot be read or written, or there is no answer at all.
    pub fn run(self) -> Result<usize, Box<dyn Error>> {
        match self.command {
            Command::Rows(rows) => rows.run(),
            Command::Ask(ask) => ask.run(),
        }
    }
}

impl Rows {
    /// Refuses a file that must not or cannot be written, before anything is asked.
    fn check_output(&self) -> Result<(), Box<dyn Error>> {
        Sheet::check_ending(&self.output)?;
        let output = self.output.display();
        if is_same_file(&self.file, &self.output) {
            return Err(format!(
                "{output} is the file that is read, and writing the answers over it would take \
                 its formulas, formats and other sheets. Name another file."
            )
            .into());
        }
        if self.output.exists() && !self.force {
            return Err(format!(
                "{output} is there already. Name another file, or say --force to write over it."
            )
            .into());
        }
        Ok(())
    }

    fn run(self) -> Result<usize, Box<dyn Error>> {
        self.check_output()?;
        let sheet = Sheet::read(&self.file, self.sheet.as_deref())?;
        let client = self.place.client()?;
        for said in rows::percentages(&sheet, client.service(&self.calculation)?) {
            eprintln!("{said}");
        }
        let mut everywhere = self.everywhere;
        if let Some(units) = self.units {
            let word = if matches!(units, Units::Us) { "us" } else { "metric" };
            everywhere.push(("units".to_owned(), word.to_owned()));
        }
        let how = How { calculation: self.calculation, everywhere, at_once: self.at_once };
        let bar = ProgressBar::new(sheet.rows.len() as u64);
        bar.set_style(ProgressStyle::with_template("{bar:40} {pos} of {len} rows, {eta} to go")?);
        let answered = rows::ask(&client, &sheet, &how, |rows| bar.inc(rows as u64))?;
        bar.finish_and_clear();
        answered.sheet.write(&self.output)?;
        let asked = sheet.rows.len();
        let output = self.output.display();
        if answered.failed == 0 {
            eprintln!("{asked} rows answered, in {output}");
        } else {
            eprintln!(
                "{} of {asked} rows have no answer; column problem of {output} says why",
                answered.failed
            );
        }
        Ok(answered.failed)
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
        let document = if let Some(file) = self.file.filter(|file| file.as_os_str() != "-") {
            std::fs::read(file)?
        } else {
            let mut document = Vec::new();
            std::io::stdin().read_to_end(&mut document)?;
            document
        };
        let answered = self.place.client()?.solve_document(&self.calculation, &document)?;
        std::io::stdout().write_all(&answered)?;
        println!();
        Ok(0)
    }
}
