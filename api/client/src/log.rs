//! Asks a sheet that is one list of one document, such as a log of readings: it has one answer.

use crate::ask::Client;
use crate::columns::Columns;
use crate::error::Error;
use crate::rows::{Asking, How, round_text};
use crate::sheet::{Row, Sheet, of_service};
use serde_json::Value;
use sumpwright_openapi::problem::{Problem, RequestFault};
use sumpwright_openapi::table::TableOptions;

/// The answer to a log.
#[derive(Debug)]
pub struct LogAnswer {
    /// Number of rows of the log.
    pub entries: usize,
    /// The names of the answer's values in the flat form, each with its value as text.
    pub values: Vec<(String, String)>,
    /// Whether their numbers have a decimal comma.
    pub decimal_comma: bool,
}

/// The values of a list of the answer by their paths, from its table with a row an entry.
fn entries_by_path(list: &str, headings: &[String], rows: &[Vec<String>]) -> Vec<(String, String)> {
    // A unit may stand behind a name.
    let name = |heading: &str| heading.split(' ').next().unwrap_or_default().to_owned();
    let names: Vec<String> = headings.iter().map(|heading| name(heading)).collect();
    let entries = rows.iter().enumerate().flat_map(|(i, row)| {
        let cells = names.iter().zip(row).filter(|(_, value)| !value.is_empty());
        cells.map(move |(name, value)| (format!("answer.{list}.{i}.{name}"), value.clone()))
    });
    entries.collect()
}

/// Asks the rows of `sheet` as the calculation's one list, called `list`.
///
/// # Errors
///
/// When there is no answer: names every row and column with a fault.
pub fn ask(client: &Client, sheet: &Sheet, how: &How, list: &str) -> Result<LogAnswer, Error> {
    let service = client.service(&how.calculation)?;
    let columns = Columns::of(sheet, service)?;
    let asking = Asking { client, sheet, how, columns: &columns };
    asking.check_units()?;
    let entries: Vec<&Row> = sheet.rows.iter().filter(|row| !row.is_blank()).collect();
    let faults = entries.iter().flat_map(|row| {
        let faults = columns.faults_of_cells(sheet, row).into_iter();
        faults.map(|fault| fault.told(sheet, row))
    });
    let faults: Vec<String> = faults.collect();
    if !faults.is_empty() {
        return Err(Error::Sheet(faults.join("\n")));
    }
    let decimal_comma = columns.decimal_comma;
    // Each row stands where it stands in the sheet, so that a fault is told with its row.
    let mut table = "\n".repeat(sheet.head.place - 1).into_bytes();
    table.extend(asking.headings());
    let mut place = sheet.head.place;
    for row in &entries {
        table.extend(std::iter::repeat_n(b'\n', row.place - place - 1));
        table.extend(asking.line(row));
        place = row.place;
    }
    let options = TableOptions { headings_in_row: Some(sheet.head.place), ..asking.options() };
    let answered = client.solve_table(&how.calculation, &table, &options);
    let answered = answered.map_err(|error| match error {
        Error::Problem(problem) if !problem.errors.is_empty() => {
            Error::Sheet(told(&problem, list, service.example))
        }
        error => error,
    })?;
    let (headings, rows) = of_service(&answered, b',');
    let wanted = |name: &str| match &how.columns {
        None => true,
        Some(paths) => paths.iter().any(|path| {
            name.strip_prefix(path.as_str())
                .is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        }),
    };
    let values = match service.answer_list() {
        Some(list) => entries_by_path(list, &headings, &rows),
        None => {
            let pairs = rows.into_iter().filter_map(|row| <[String; 2]>::try_from(row).ok());
            pairs.map(|[name, value]| (name, value)).collect()
        }
    };
    let values = values.into_iter().filter(|(name, _)| wanted(name)).map(|(name, value)| {
        let is_number = !service.record.quantities_at(&name).is_empty();
        let digits = how.digits.filter(|_| is_number);
        let value =
            digits.map_or(value.clone(), |digits| round_text(&value, digits, decimal_comma));
        (name, value)
    });
    let values: Vec<(String, String)> = values.collect();
    // A list may have nothing in it; a value that was asked for by name is there or is not.
    if values.is_empty() && (service.answer_list().is_none() || how.columns.is_some()) {
        let names = how.columns.as_deref().unwrap_or_default().join(", ");
        return Err(Error::Sheet(format!("The answer has no member {names}.")));
    }
    Ok(LogAnswer { entries: entries.len(), values, decimal_comma })
}

/// Every fault on a line of its own. Those of an entry say their rows themselves.
fn told(problem: &Problem, list: &str, example: &str) -> String {
    let mut around = None;
    let line = |fault: &RequestFault| {
        let path = fault.pointer.trim_start_matches('/').replace('/', ".");
        if path.is_empty() || path.split('.').next() == Some(list) {
            return fault.detail.clone();
        }
        around.get_or_insert_with(|| path.clone());
        format!("{path}: {}", fault.detail)
    };
    let mut lines: Vec<String> = problem.errors.iter().map(line).collect();
    if let Some(path) = around {
        let set = exemplary(example, path);
        lines.push(format!("What belongs to no row is said by --set, as in --set {set}."));
    }
    lines.join("\n")
}

/// A member as the example has it, or the first member of it, as path=value.
fn exemplary(example: &str, mut path: String) -> String {
    let example: Value = serde_json::from_str(example).unwrap_or_default();
    let mut value = example.pointer(&format!("/{}", path.replace('.', "/")));
    loop {
        let (name, inner) = match value {
            Some(Value::Object(members)) => match members.iter().next() {
                Some((name, inner)) => (name.clone(), inner),
                None => return format!("{path}=…"),
            },
            Some(Value::Array(entries)) if !entries.is_empty() => ("0".to_owned(), &entries[0]),
            Some(Value::String(text)) if !text.contains(' ') => return format!("{path}={text}"),
            Some(Value::String(text)) => return format!("\"{path}={text}\""),
            Some(Value::Number(number)) => return format!("{path}={number}"),
            _ => return format!("{path}=…"),
        };
        path = format!("{path}.{name}");
        value = Some(inner);
    }
}
