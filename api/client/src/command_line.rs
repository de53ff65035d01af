//! The command line of the program.

use crate::ask::Client;
use crate::over_http::Server;
use crate::rows::{self, How};
use crate::sheet::Sheet;
use clap::{Args, Parser, Subcommand, ValueEnum};
use indicatif::{ProgressBar, ProgressStyle};
use std::error::Error;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

/// Ask Sumpwright about one document or about every row of a spreadsheet.
#[derive(Debug, Parser)]
#[command(version)]
pub struct ClientCommandLine {
    #[command(subcommand)]
    command: ClientCommand,
}

#[derive(Debug, Subcommand)]
enum ClientCommand {
    /// Answer every row of a spreadsheet and write the answers beside the rows.
    Rows(Rows),
    /// Answer one document.
    Ask(Ask),
}

/// Where to ask.
#[derive(Debug, Args)]
struct Where {
    /// Address of the server. Default: none; the answers are calculated on this machine
    /// and nothing is sent anywhere.
    #[arg(long, env = "SUMPWRIGHT_SERVER")]
    server: Option<String>,
    /// Key, if the server needs one.
    #[arg(long, env = "SUMPWRIGHT_KEY", hide_env_values = true)]
    key: Option<String>,
    /// Number of times to ask again when the server is too busy.
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
    /// Calculation, for example top-up.
    calculation: String,
    /// Spreadsheet: .csv, .xlsx or .ods. Its first row names the members.
    file: PathBuf,
    /// File to write the answers to: .csv or .xlsx.
    #[arg(short, long)]
    output: PathBuf,
    /// Overwrite the file if it exists.
    #[arg(long)]
    force: bool,
    /// Sheet of a workbook. Default: the first.
    #[arg(long)]
    sheet: Option<String>,
    /// System of units, if no column gives it.
    #[arg(long)]
    units: Option<UnitsArgument>,
    /// Member that is the same for every row, as path=value.
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = pair)]
    everywhere: Vec<(String, String)>,
    /// Number of parts of the table that are asked at the same time.
    #[arg(long, default_value_t = 4)]
    at_once: usize,
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
    /// Does what the command line says: how many rows have no answer.
    ///
    /// # Errors
    ///
    /// When a file cannot be read or written, or there is no answer at all.
    pub fn run(self) -> Result<usize, Box<dyn Error>> {
        match self.command {
            ClientCommand::Rows(rows) => rows.run(),
            ClientCommand::Ask(ask) => ask.run(),
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
            let word = if matches!(units, UnitsArgument::Us) { "us" } else { "metric" };
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
