//! The rows of a table, one by one.

use super::columns::{ANSWER, merge, paths_of};
use super::dialect;
use super::state::Table;
use crate::guarded::guarded;
use crate::request::envelope::{UNITS, units_named};
use crate::request::problem::{Problem, ProblemKind};
use crate::row::cells::{Cells, Source};
use crate::row::guard::harmless;
use crate::row::leaves::Leaves;
use crate::ways::Straight;
use csv::{ByteRecord, StringRecord};
use serde_json::Value;
use std::borrow::Cow;
use sumpwright_engine::quantity::UnitSystem;

/// Number of first rows whose answers determine the columns.
const SAMPLE: usize = 200;

impl Table {
    /// Answers whole rows and appends the answers to `out`.
    pub fn answer(&self, rows: &[u8], out: &mut Vec<u8>) {
        self.answer_while(rows, out, |_, _| true);
    }

    /// The same; after each row calls `go_on` with the number of bytes of `rows` that
    /// have been answered, and stops if it returns false.
    pub fn answer_while(
        &self,
        rows: &[u8],
        out: &mut Vec<u8>,
        mut go_on: impl FnMut(&mut Vec<u8>, usize) -> bool,
    ) {
        let mut reader = self.dialect.reader(rows);
        let mut bytes = ByteRecord::new();
        let mut leaves = Leaves::default();
        let mut from = 0;
        let width = self.answers.paths.len();
        while reader.read_byte_record(&mut bytes).unwrap_or(false) {
            let read = usize::try_from(reader.position().byte()).unwrap_or(rows.len());
            let to = read.saturating_sub(dialect::BEFORE_ROWS.len());
            let as_it_came = rows[from..to].trim_ascii();
            from = to;
            leaves.clear(width, self.dialect.decimal_comma);
            let problem = match self.as_text(std::mem::take(&mut bytes)) {
                Ok(row) => {
                    let answered = guarded(|| Ok(self.answer_row(&row, &mut leaves)));
                    let problem = answered.unwrap_or_else(|problem| {
                        leaves.clear(width, self.dialect.decimal_comma);
                        Some(format!("The service failed on this row: {}", problem.detail))
                    });
                    self.write_own(&row, as_it_came, out);
                    bytes = row.into_byte_record();
                    problem
                }
                Err(row) => {
                    self.write_shown(&row, out);
                    let problem =
                        too_long(&row, self.headings.len()).unwrap_or_else(|| self.no_text(&row));
                    bytes = row;
                    Some(problem)
                }
            };
            for column in 0..self.answers.paths.len() {
                out.push(self.dialect.separator);
                let (cell, is_text) = leaves.cell(column);
                match std::str::from_utf8(cell) {
                    Ok(text) if is_text => self.write_text(text, out),
                    _ => out.extend_from_slice(cell),
                }
            }
            out.push(self.dialect.separator);
            self.write_text(&problem.unwrap_or_default(), out);
            out.push(b'\n');
            if !go_on(out, to) {
                return;
            }
        }
    }

    /// A last row whose only filled cell says why the table ends there.
    pub fn end(&self, why: &str, out: &mut Vec<u8>) {
        let blank = self.headings.len() + self.answers.paths.len();
        out.extend(std::iter::repeat_n(self.dialect.separator, blank));
        self.write_text(why, out);
        out.push(b'\n');
    }

    /// A last row with an unclosed quotation mark.
    pub fn answer_open(&self, row: &[u8], out: &mut Vec<u8>) {
        self.write_cell(&self.harmless(row.trim_ascii_end()), out);
        let blank = self.headings.len() + self.answers.paths.len();
        out.extend(std::iter::repeat_n(self.dialect.separator, blank));
        let open = "A quotation mark in this row is not closed, so everything after it was read \
                    as one cell.";
        self.write_text(open, out);
        out.push(b'\n');
    }

    /// A row whose cells are text; the raw row if one of them is not.
    fn as_text(&self, row: ByteRecord) -> Result<StringRecord, ByteRecord> {
        if self.dialect.latin && !row.as_slice().is_ascii() {
            let cells: Vec<_> = row.iter().map(|cell| self.dialect.text(cell)).collect();
            return Ok(cells.into_iter().map(Option::unwrap_or_default).collect());
        }
        StringRecord::from_byte_record(row).map_err(csv::FromUtf8Error::into_byte_record)
    }

    /// The caller's own cells, as many as there are headings: copied in one piece if
    /// nothing in them has to change.
    fn write_own(&self, row: &StringRecord, as_it_came: &[u8], out: &mut Vec<u8>) {
        let begins_harmless =
            |cell: &str| cell.bytes().next().is_none_or(|first| first.is_ascii_alphanumeric());
        let unchanged = row.len() == self.headings.len()
            && row.iter().all(begins_harmless)
            && row.as_slice().len() + row.len() == as_it_came.len() + 1
            && (!self.dialect.latin || as_it_came.is_ascii())
            && memchr::memchr3(b'"', b'\r', b'\n', as_it_came).is_none();
        if unchanged {
            return out.extend_from_slice(as_it_came);
        }
        for i in 0..self.headings.len() {
            if i > 0 {
                out.push(self.dialect.separator);
            }
            self.write_text(row.get(i).unwrap_or_default(), out);
        }
    }

    /// The same for cells that are not text, as they are displayed.
    fn write_shown(&self, row: &ByteRecord, out: &mut Vec<u8>) {
        for i in 0..self.headings.len() {
            if i > 0 {
                out.push(self.dialect.separator);
            }
            self.write_cell(&self.harmless(row.get(i).unwrap_or_default()), out);
        }
    }

    /// A text, disarmed if a spreadsheet would execute it.
    fn write_text(&self, text: &str, out: &mut Vec<u8>) {
        self.write_cell(harmless(text).as_bytes(), out);
    }

    /// A cell, in quotation marks if it needs them (RFC 4180).
    fn write_cell(&self, cell: &[u8], out: &mut Vec<u8>) {
        let breaks = memchr::memchr3(self.dialect.separator, b'"', b'\n', cell).is_some();
        if !breaks && !cell.contains(&b'\r') {
            return out.extend_from_slice(cell);
        }
        out.push(b'"');
        for piece in cell.split_inclusive(|byte| *byte == b'"') {
            out.extend_from_slice(piece);
            if piece.ends_with(b"\"") {
                out.push(b'"');
            }
        }
        out.push(b'"');
    }

    /// Answers a row into `leaves`, or says why it cannot be.
    fn answer_row(&self, row: &StringRecord, leaves: &mut Leaves) -> Option<String> {
        if row.iter().all(|cell| cell.trim_ascii().is_empty()) {
            return None;
        }
        if let Some(problem) = too_long(row.as_byte_record(), self.headings.len()) {
            return Some(problem);
        }
        let mut cells = self.cells(row, UnitSystem::Metric);
        let units = self.units.in_row(row);
        if let Some(problem) = self.ambiguous(row) {
            let others = self.of_the_shape(&cells, units_named(units));
            return Some(
                [Some(problem), others].into_iter().flatten().collect::<Vec<_>>().join(" "),
            );
        }
        let Some(units) = units_named(units) else {
            return self.thorough(&cells, None, leaves);
        };
        cells.units = units;
        leaves.clear(self.answers.paths.len(), self.dialect.decimal_comma);
        let straight =
            self.service.answer_row(cells.along(&self.tree), units, &self.answers.columns, leaves);
        match straight {
            Straight::Answered => self.left_out(leaves),
            Straight::Refused(problem) => Some(self.told(problem, &cells, units)),
            Straight::Unread => self.thorough(&cells, Some(units), leaves),
        }
    }

    /// What is wrong with the shape of a row, which cannot be answered anyway.
    fn of_the_shape(&self, cells: &Cells<'_>, units: Option<UnitSystem>) -> Option<String> {
        let problem = self.record_of(cells, units).err()?;
        let is_of_the_shape = problem.kind() == Some(ProblemKind::Malformed);
        is_of_the_shape.then(|| self.told(problem, cells, units.unwrap_or(UnitSystem::Metric)))
    }

    fn cells<'c>(&'c self, row: &'c StringRecord, units: UnitSystem) -> Cells<'c> {
        Cells {
            members: &self.members,
            sources: &self.sources,
            row,
            units,
            decimal_comma: self.dialect.decimal_comma,
        }
    }

    fn left_out(&self, leaves: &Leaves) -> Option<String> {
        (leaves.left_out > 0 && !self.answers.columns.chosen).then(|| {
            format!(
                "This answer has {} more values than those of the first rows, and there is no \
                 column for them. Name the columns you want with columns= in the query.",
                leaves.left_out
            )
        })
    }

    /// The fault of a row that cannot even be read.
    fn fault_of(&self, row: &StringRecord) -> Option<String> {
        too_long(row.as_byte_record(), self.headings.len()).or_else(|| self.ambiguous(row))
    }

    fn no_text(&self, row: &ByteRecord) -> String {
        let unread = row.iter().position(|cell| self.dialect.text(cell).is_none());
        format!(
            "Cell {} of this row is not in UTF-8; it is shown here as windows-1252. Save \
             the table as CSV in UTF-8, or put charset=windows-1252 in the Content-Type.",
            unread.map_or(0, |cell| cell + 1)
        )
    }

    /// The cells that can be read in two ways, each with its column.
    fn ambiguous(&self, row: &StringRecord) -> Option<String> {
        let cells = self.members.iter().zip(&self.sources);
        let faults = cells.filter_map(|(member, source)| {
            let fault = member.ambiguity(source.in_row(row), self.dialect.decimal_comma)?;
            Some(format!("{}: {fault}", self.called(&member.path)))
        });
        Some(faults.collect::<Vec<_>>().join(" ")).filter(|faults| !faults.is_empty())
    }

    /// The place of a member as the table calls it: its heading, without it its path.
    fn called(&self, path: &str) -> String {
        let mut columns = self.members.iter().zip(&self.sources);
        let heading = columns.find_map(|(member, source)| match source {
            Source::Cell(place) if member.path == path => self.headings.get(*place),
            _ => None,
        });
        let heading = heading.and_then(|heading| self.dialect.text(heading));
        heading.map_or_else(|| path.to_owned(), |heading| heading.trim().to_owned())
    }

    /// Why a row has no answer: every fault with its column, in the units that the row is typed in.
    fn told(&self, problem: Problem, cells: &Cells<'_>, units: UnitSystem) -> String {
        let typed = self.typed_in.filter(|typed| *typed != units);
        let retold = typed.and_then(|typed| self.record_of(cells, Some(typed)).err());
        let problem = retold.unwrap_or(problem);
        problem.sentences_by(|path| self.called(path)).join(" ")
    }

    /// The thorough way for a row that cannot be read straight: as a flat document.
    fn thorough(
        &self,
        cells: &Cells<'_>,
        units: Option<UnitSystem>,
        leaves: &mut Leaves,
    ) -> Option<String> {
        match self.record_of(cells, units) {
            Ok(record) => {
                let answer = if self.answers.columns.of_record { &record } else { &record[ANSWER] };
                leaves.clear(self.answers.paths.len(), self.dialect.decimal_comma);
                leaves.write(answer, &self.answers.columns);
                self.left_out(leaves)
            }
            Err(problem) => Some(self.told(problem, cells, units.unwrap_or(UnitSystem::Metric))),
        }
    }

    fn record_of(&self, cells: &Cells<'_>, units: Option<UnitSystem>) -> Result<Value, Problem> {
        let comma = self.dialect.decimal_comma;
        let word = units.map(|units| match units {
            UnitSystem::Metric => "metric",
            UnitSystem::Us => "us",
        });
        let members = self.members.iter().enumerate();
        let texts: Vec<Cow<'_, str>> = members
            .map(|(place, member)| match word {
                Some(word) if member.path == UNITS => Cow::Borrowed(word),
                _ => member.in_document(cells.text_of(place), comma, units),
            })
            .collect();
        let paths = self.members.iter().map(|member| member.path.as_str());
        guarded(|| self.service.answer_flat(paths.zip(texts.iter().map(AsRef::as_ref))))
    }

    /// Whether the numbers in the cells have a decimal comma.
    pub(super) fn writes_commas(&self, sample: &[u8]) -> bool {
        self.dialect.separator != b','
            && self.sample(sample).any(|row| {
                let mut cells = self.members.iter().zip(&self.sources);
                cells.any(|(member, source)| member.has_comma(source.in_row(&row)))
            })
    }

    /// The columns of the answers to the first rows, or of the answer to the
    /// example if none of those rows has an answer.
    pub(super) fn answers_seen(&self, sample: &[u8]) -> Vec<String> {
        let mut columns = Vec::new();
        for row in self.sample(sample).filter(|row| self.fault_of(row).is_none()) {
            let units = units_named(self.units.in_row(&row).trim());
            if let Ok(record) = self.record_of(&self.cells(&row, UnitSystem::Metric), units) {
                merge(&mut columns, paths_of(&record, &self.service));
            }
        }
        if columns.is_empty() {
            let example = self.service.answer(self.service.example.as_bytes()).unwrap_or_default();
            let record = serde_json::from_slice(&example).unwrap_or_default();
            columns = paths_of(&record, &self.service);
        }
        columns
    }

    /// The first rows, without those that are not text.
    fn sample(&self, sample: &[u8]) -> impl Iterator<Item = StringRecord> {
        let rows: Vec<ByteRecord> =
            self.dialect.reader(sample).byte_records().map_while(Result::ok).take(SAMPLE).collect();
        rows.into_iter().filter_map(|row| self.as_text(row).ok())
    }
}

/// The fault of a row with more cells than there are headings.
pub(super) fn too_long(row: &ByteRecord, headings: usize) -> Option<String> {
    let cells = row.len();
    if cells <= headings {
        return None;
    }
    let more: Vec<Cow<'_, str>> = row.iter().skip(headings).map(String::from_utf8_lossy).collect();
    Some(format!(
        "This row has {cells} cells but the table has {headings} headings. Put cells that contain \
         a separator in quotation marks. The extra cells are: {}",
        more.join(" | ")
    ))
}
