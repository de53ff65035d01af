//! What the columns of a sheet are to a calculation, before anything is asked.

use crate::called::called;
use crate::error::Error;
use crate::sheet::{Cell, Row, Sheet, Source};
use sumpwright_engine::document::Shape;
use sumpwright_openapi::service::Service;
use sumpwright_openapi::table::{Meaning, meaning};

/// What the columns of a sheet are to a calculation.
#[derive(Debug, Clone)]
pub(crate) struct Columns {
    meanings: Vec<Meaning>,
    /// Whether the numbers of a file of text have a decimal comma.
    pub(crate) decimal_comma: bool,
}

/// Among so many rows headings are looked for.
const NEAR_THE_TOP: usize = 50;

impl Columns {
    /// Reads the headings.
    ///
    /// # Errors
    ///
    /// Names every heading that no table can have. Where no heading is a member of the
    /// question, names the row or the sheet whose cells are.
    pub(crate) fn of(sheet: &Sheet, service: &Service) -> Result<Self, Error> {
        let headings = sheet.headings.iter().map(|heading| meaning(heading, service));
        let meanings: Vec<Meaning> = headings.collect();
        let faults = meanings.iter().enumerate().filter_map(|(column, meaning)| match meaning {
            Meaning::Fault(why) => {
                Some(format!("Row {}, column {}: {why}", sheet.head.place, sheet.letters(column)))
            }
            Meaning::Own | Meaning::Member { .. } => None,
        });
        let faults: Vec<String> = faults.collect();
        if !meanings.iter().any(|meaning| matches!(meaning, Meaning::Member { .. })) {
            let elsewhere = elsewhere(sheet, service);
            if elsewhere.is_some() || faults.is_empty() {
                return Err(Error::Sheet(nothing_known(sheet, service, elsewhere)));
            }
        }
        if !faults.is_empty() {
            return Err(Error::Sheet(faults.join("\n")));
        }
        let mut columns = Self { meanings, decimal_comma: false };
        columns.decimal_comma = columns.has_commas(sheet);
        Ok(columns)
    }

    /// The path of the member that a column is, and whether its values are numbers.
    pub(crate) fn member(&self, column: usize) -> Option<(&str, bool)> {
        match self.meanings.get(column) {
            Some(Meaning::Member { path, is_number }) => Some((path, *is_number)),
            _ => None,
        }
    }

    /// Whether a column is the member at `path`.
    pub(crate) fn has(&self, path: &str) -> bool {
        self.column_of(path).is_some()
    }

    /// The column of the member at a path.
    pub(crate) fn column_of(&self, wanted: &str) -> Option<usize> {
        (0..self.meanings.len())
            .find(|column| self.member(*column).is_some_and(|(path, _)| path == wanted))
    }

    fn has_commas(&self, sheet: &Sheet) -> bool {
        let Source::Text(notation) = &sheet.source else { return false };
        let is_number = |column| self.member(column).is_some_and(|(_, is_number)| is_number);
        let has_comma = |cell: &Cell| match cell {
            Cell::Text(text) => {
                text.contains(',') && matches!(Cell::typed(text, true), Cell::Number(_))
            }
            _ => false,
        };
        notation.dialect.separator != b','
            && sheet.rows.iter().any(|row| {
                let mut cells = row.cells.iter().enumerate();
                cells.any(|(column, cell)| has_comma(cell) && is_number(column))
            })
    }

    /// The faults of the cells of a row that a value alone does not show, each with its column.
    pub(crate) fn faults_of_cells(&self, sheet: &Sheet, row: &Row) -> Vec<Fault> {
        if matches!(sheet.source, Source::Text(_)) {
            return Vec::new();
        }
        let cells = row.cells.iter().enumerate();
        let faults = cells.filter_map(|(column, cell)| {
            let (path, is_number) = self.member(column)?;
            let why = cell.fault(is_number)?;
            Some(Fault { path: path.to_owned(), column: Some(column), why })
        });
        faults.collect()
    }

    /// The faults in what the service says of a row. Each begins with the heading of its
    /// column or, where it has none, with the path of its member, and a colon.
    pub(crate) fn faults_said(&self, sheet: &Sheet, said: &str, question: &Shape) -> Vec<Fault> {
        let mut faults: Vec<Fault> = Vec::new();
        let mut rest = said;
        let mut begins = true;
        while !rest.is_empty() {
            if begins && let Some((fault, after)) = self.beginning(sheet, rest, question) {
                faults.push(fault);
                rest = after;
            }
            let end = rest.find(' ').map_or(rest.len(), |blank| blank + 1);
            let (word, after) = rest.split_at(end);
            begins = word.trim_end().ends_with(['.', '?', '!']);
            match faults.last_mut() {
                Some(fault) => fault.why.push_str(word),
                None => faults.push(Fault { why: word.to_owned(), ..Fault::default() }),
            }
            rest = after;
        }
        for fault in &mut faults {
            fault.why.truncate(fault.why.trim_end().len());
            fault.name_no_member();
        }
        faults
    }

    /// The fault that `said` begins with, without what is wrong, and that with all after it.
    fn beginning<'t>(
        &self,
        sheet: &Sheet,
        said: &'t str,
        question: &Shape,
    ) -> Option<(Fault, &'t str)> {
        let headings = sheet.headings.iter().enumerate().filter_map(|(column, heading)| {
            let (path, _) = self.member(column)?;
            let after = said.strip_prefix(heading.trim())?.strip_prefix(": ")?;
            Some((Fault { path: path.to_owned(), column: Some(column), why: String::new() }, after))
        });
        let path = || {
            let (path, after) = said.split_once(": ")?;
            let fault = Fault { path: path.to_owned(), ..Fault::default() };
            question.has_path(path).then_some((fault, after))
        };
        // Of two headings that both fit, the longer one is meant.
        headings.min_by_key(|(_, after)| after.len()).or_else(path)
    }
}

/// A fault of a row.
#[derive(Debug, Default, PartialEq)]
pub(crate) struct Fault {
    /// The path of its member, if it is about one.
    pub(crate) path: String,
    /// The column of that.
    pub(crate) column: Option<usize>,
    /// What is wrong.
    pub(crate) why: String,
}

impl Fault {
    /// A member that has its column is not missing: its cell is blank.
    fn name_no_member(&mut self) {
        let member = self.path.rsplit('.').next().unwrap_or_default();
        if self.column.is_some() && self.why == format!("{member:?} is missing.") {
            "This is blank.".clone_into(&mut self.why);
        }
    }

    /// The fault with its row.
    pub(crate) fn told(&self, sheet: &Sheet, row: &Row) -> String {
        match self.place(sheet) {
            "" => format!("Row {}: {}", row.place, self.why),
            place => format!("Row {}, {place}: {}", row.place, self.why),
        }
    }

    /// The fault as a cell of its row says it.
    pub(crate) fn in_a_cell(&self, sheet: &Sheet) -> String {
        match self.place(sheet) {
            "" => self.why.clone(),
            place => format!("{place}: {}", self.why),
        }
    }

    /// The heading of its column or, where it has none, the path of its member.
    fn place<'f>(&'f self, sheet: &'f Sheet) -> &'f str {
        let heading = self.column.and_then(|column| sheet.headings.get(column));
        heading.map_or(self.path.as_str(), |heading| heading.trim())
    }
}

/// Why no heading is a member, and what to do.
fn nothing_known(sheet: &Sheet, service: &Service, elsewhere: Option<String>) -> String {
    let (place, asked) = (sheet.head.place, service.name);
    let named = match &sheet.source {
        Source::Workbook { name, .. } => format!("row {place} of sheet {name:?}"),
        Source::Text(_) => format!("row {place}"),
    };
    let advice = elsewhere.unwrap_or_else(|| {
        format!(
            "`{} template {asked} -o {asked}.xlsx` makes a sheet with the headings, ready to fill in.",
            called()
        )
    });
    format!("No heading in {named} is a member of {asked}. {advice}")
}

/// Where there are headings that are members, if there are some.
fn elsewhere(sheet: &Sheet, service: &Service) -> Option<String> {
    if let Some(row) = best_row(sheet, service) {
        return Some(format!(
            "Row {row} has some that are: say --headings-in-row {row}, or delete what stands \
             above it."
        ));
    }
    sheet.others().iter().find_map(|other| {
        let Source::Workbook { name, .. } = &other.source else { return None };
        if known(&other.head, service) > 0 {
            return Some(format!("Sheet {name:?} has some that are: say --sheet {name:?}."));
        }
        let row = best_row(other, service)?;
        Some(format!(
            "Row {row} of sheet {name:?} has some that are: say --sheet {name:?} \
             --headings-in-row {row}."
        ))
    })
}

/// The row below the headings with the most cells that name members, if there is one.
fn best_row(sheet: &Sheet, service: &Service) -> Option<usize> {
    let rows = sheet.rows.iter().take(NEAR_THE_TOP);
    let known = rows.map(|row| {
        let parted = sheet.parted_by_itself(row);
        (known(parted.as_ref().unwrap_or(row), service), row.place)
    });
    let known = known.filter(|(known, _)| *known > 0);
    // Of several alike, the first.
    known.max_by_key(|(known, place)| (*known, std::cmp::Reverse(*place))).map(|(_, place)| place)
}

/// Number of cells of a row that name members.
fn known(row: &Row, service: &Service) -> usize {
    let is_known = |cell: &&Cell| match cell {
        Cell::Text(text) => matches!(meaning(text, service), Meaning::Member { .. }),
        _ => false,
    };
    row.cells.iter().filter(is_known).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Notation;
    use sumpwright_openapi::service::Services;

    #[test]
    fn what_is_said_of_a_row_is_parted_into_its_faults() {
        let services = Services::new();
        let service = services.get("top-up").expect("it is there");
        let row = Row { place: 1, ..Row::default() };
        let headings = ["Sump holds [L]", "Sump holds: more", "target.concentration"];
        let sheet = Sheet {
            above: Vec::new(),
            head: row,
            headings: headings.map(str::to_owned).to_vec(),
            rows: Vec::new(),
            source: Source::Text(Notation::default()),
        };
        let meanings = headings.map(|heading| meaning(heading, service)).to_vec();
        let columns = Columns { meanings, decimal_comma: false };
        let fault = |path: &str, column, why: &str| Fault {
            path: path.to_owned(),
            column,
            why: why.to_owned(),
        };
        for (said, expected) in [
            ("", vec![]),
            ("The service failed.", vec![fault("", None, "The service failed.")]),
            (
                "Sump holds [L]: Too much: 270 L. sump: \"volume\" is missing.",
                vec![
                    fault("sump.capacity", Some(0), "Too much: 270 L."),
                    fault("sump", None, "\"volume\" is missing."),
                ],
            ),
            (
                "Sump holds [L]: \"capacity\" is missing. sump: \"volume\" is missing.",
                vec![
                    fault("sump.capacity", Some(0), "This is blank."),
                    fault("sump", None, "\"volume\" is missing."),
                ],
            ),
            (
                "draining: Did you mean \"allowed\"? target.concentration: Too much.",
                vec![
                    fault("draining", None, "Did you mean \"allowed\"?"),
                    fault("target.concentration", Some(2), "Too much."),
                ],
            ),
            (
                "This row has 9 cells. The extra cells are: target: 5",
                vec![fault("", None, "This row has 9 cells. The extra cells are: target: 5")],
            ),
        ] {
            assert_eq!(columns.faults_said(&sheet, said, &service.question), expected, "{said}");
        }
    }
}
