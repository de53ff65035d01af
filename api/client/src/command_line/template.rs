//! Makes a sheet to fill in.

use super::{UnitsArgument, output};
use crate::ask::Client;
use crate::template;
use crate::written;
use clap::Args;
use std::error::Error;
use std::path::PathBuf;
use sumpwright_engine::quantity::UnitSystem;

#[derive(Debug, Args)]
pub(super) struct Template {
    /// Calculation, for example top-up.
    calculation: String,
    /// File to make: .xlsx, whose cells take only what may stand in them, or .csv.
    #[arg(short, long, value_name = "FILE")]
    output: PathBuf,
    /// Overwrite the file if it exists.
    #[arg(long)]
    force: bool,
    /// System of units of the headings and of the example.
    #[arg(long, default_value = "metric")]
    units: UnitsArgument,
}

impl Template {
    pub(super) fn run(self) -> Result<usize, Box<dyn Error>> {
        written::check_ending(&self.output, "a template is")?;
        output::check(None, &self.output, self.force, "")?;
        let client = Client::in_process();
        let units = match self.units {
            UnitsArgument::Metric => UnitSystem::Metric,
            UnitsArgument::Us => UnitSystem::Us,
        };
        let template = template::SheetToFillIn::of(client.service(&self.calculation)?, units);
        template.write(&self.output)?;
        let file = self.output.display().to_string();
        eprintln!("{file} has the headings and an example to write over. Then:");
        eprintln!("{}", template.command(&file, "answers.xlsx"));
        Ok(0)
    }
}
