//! The rows of a table, one by one.

use super::cells::plain_number;
use super::heading::Kind;
use super::{Cells, Leaves, Source, Table, merge, paths_of};
use crate::problem::Problem;
use csv::ByteRecord;
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde_json::Value;
use std::borrow::Cow;
use sumpwright_engine::quantity::UnitSystem;

/// So many of the first rows show what columns the answers have.
const SAMPLE: usize = 200;

/// What became of a row on the straight way.
pub(crate) enum Straight {
    /// Its answer is in the leaves.
    Answered,
    /// It has none.
    Refused(Problem),
    /// It could not be read as a question; the thorough way says why.
    Unread,
}

impl Table {
    /// Answers whole rows, and appends the answers to `out`.
    pub fn answer(&self, rows: &[u8], out: &mut Vec<u8>) {
        let mut reader = self.reader(rows);
        let mut writer = self.writer(std::mem::take(out));
        let mut row = ByteRecord::new();
        let mut leaves = Leaves::default();
        while reader.read_byte_record(&mut row).unwrap_or(false) {
            let problem = self.answer_row(&row, &mut leaves);
            for i in 0..self.headings.len() {
                // A writer into memory does not fail.
                let _ = writer.write_field(self.harmless(row.get(i).unwrap_or_default()));
            }
            for column in 0..self.answers.paths.len() {
                let (cell, is_text) = leaves.cell(column);
                let _ = match std::str::from_utf8(cell) {
                    Ok(text) if is_text => {
                        writer.write_field(super::guard::harmless(text).as_bytes())
                    }
                    _ => writer.write_field(cell),
                };
            }
            let problem = problem.unwrap_or_default();
            let _ = writer.write_field(super::guard::harmless(&problem).as_bytes());
            let _ = writer.write_record(None::<&[u8]>);
        }
        *out = writer.into_inner().unwrap_or_default();
    }

    /// A last row that never ended: a quotation mark in it was not closed.
    pub fn answer_open(&self, row: &[u8], out: &mut Vec<u8>) {
        let mut writer = self.writer(std::mem::take(out));
        let _ = writer.write_field(self.harmless(row.trim_ascii_end()));
        for _ in 1..self.headings.len() + self.answers.paths.len() {
            let _ = writer.write_field("");
        }
        let _ = writer.write_field(
            "A quotation mark in this row is not closed, and what follows it was read as one cell.",
        );
        let _ = writer.write_record(None::<&[u8]>);
        *out = writer.into_inner().unwrap_or_default();
    }

    /// Answers a row into `leaves`, or says why it cannot be.
    fn answer_row(&self, row: &ByteRecord, leaves: &mut Leaves) -> Option<String> {
        leaves.clear(self.answers.paths.len(), UnitSystem::Metric, self.dialect.decimal_comma);
        if row.iter().all(|cell| cell.trim_ascii().is_empty()) {
            return None;
        }
        if let Some(problem) = self.fault_of(row) {
            return Some(problem);
        }
        let texts: Vec<Cow<'_, str>> =
            self.sources.iter().map(|source| self.text(source, row)).collect();
        let units = self.text(&self.units, row);
        let Some(units) = system(units.trim()) else { return self.thorough(&texts, None, leaves) };
        leaves.clear(self.answers.paths.len(), units, self.dialect.decimal_comma);
        let cells = Cells {
            members: &self.members,
            texts: &texts,
            units,
            decimal_comma: self.dialect.decimal_comma,
        };
        let straight = self.service.answer_row(
            cells.along(&self.tree),
            units,
            &self.answers.node,
            self.answers.of_record,
            leaves,
        );
        match straight {
            Straight::Answered => self.left_out(leaves),
            Straight::Refused(problem) => Some(problem.in_a_cell()),
            Straight::Unread => self.thorough(&texts, Some(units), leaves),
        }
    }

    fn left_out(&self, leaves: &Leaves) -> Option<String> {
        (leaves.left_out > 0 && !self.answers.chosen).then(|| {
            format!(
                "This answer has {} values more than the first rows led to expect, and no column \
                 for them. Name the columns you want with columns= in the query.",
                leaves.left_out
            )
        })
    }

    /// What is wrong with a row before it is read.
    fn fault_of(&self, row: &ByteRecord) -> Option<String> {
        if row.len() > self.headings.len() {
            let (cells, headings) = (row.len(), self.headings.len());
            let more: Vec<Cow<'_, str>> =
                row.iter().skip(headings).map(String::from_utf8_lossy).collect();
            return Some(format!(
                "This row has {cells} cells and the table {headings} headings. Cells with a \
                 separator in them belong in quotation marks. Beyond the headings stands: {}",
                more.join(" | ")
            ));
        }
        let unread = row.iter().position(|cell| self.dialect.text(cell).is_none());
        let Some(unread) = unread else { return self.grouped_number(row) };
        Some(format!(
            "Cell {} of this row is not in UTF-8 and was taken for windows-1252 to be shown. Save \
             the table as CSV in UTF-8, or say charset=windows-1252 in its Content-Type.",
            unread + 1
        ))
    }

    /// In a table with decimal commas, 1.250 may be a thousand and a quarter, or
    /// one and a quarter.
    fn grouped_number(&self, row: &ByteRecord) -> Option<String> {
        if !self.dialect.decimal_comma {
            return None;
        }
        let numbers = self.members.iter().zip(&self.sources);
        let texts = numbers.filter(|(member, _)| matches!(member.kind, Kind::Number(_)));
        let grouped = texts.map(|(_, source)| self.text(source, row)).find(|text| {
            let mut groups = text.trim().split('.');
            let first = groups.next().unwrap_or_default();
            let digits = |group: &str| group.bytes().all(|byte| byte.is_ascii_digit());
            let mut others = groups.peekable();
            others.peek().is_some()
                && (1..=3).contains(&first.len())
                && digits(first)
                && others.all(|group| group.len() == 3 && digits(group))
        })?;
        Some(format!(
            "This table writes decimals with a comma, so {grouped:?} can be read in two ways. Write \
             it without a point."
        ))
    }

    fn text<'t>(&'t self, source: &'t Source, row: &'t ByteRecord) -> Cow<'t, str> {
        match source {
            Source::Cell(i) => {
                row.get(*i).and_then(|cell| self.dialect.text(cell)).unwrap_or_default()
            }
            Source::Everywhere(text) => Cow::Borrowed(text),
        }
    }

    /// The way of a row that is wrong, or nearly: as a flat document.
    fn thorough(
        &self,
        texts: &[Cow<'_, str>],
        units: Option<UnitSystem>,
        leaves: &mut Leaves,
    ) -> Option<String> {
        match self.record_of(texts, units) {
            Ok(record) => {
                let answer = if self.answers.of_record { &record } else { &record[super::ANSWER] };
                // The numbers of a finished record are in the caller's units already.
                let decimal_comma = self.dialect.decimal_comma;
                leaves.clear(self.answers.paths.len(), UnitSystem::Metric, decimal_comma);
                leaves.write(answer, &self.answers.node);
                self.left_out(leaves)
            }
            Err(problem) => Some(problem.in_a_cell()),
        }
    }

    fn record_of(
        &self,
        texts: &[Cow<'_, str>],
        units: Option<UnitSystem>,
    ) -> Result<Value, Problem> {
        let pairs: Vec<(&str, Cow<'_, str>)> = self
            .members
            .iter()
            .zip(texts)
            .map(|(member, text)| {
                let Kind::Number(row) = member.kind else {
                    return (member.path.as_str(), Cow::Borrowed(text.as_ref()));
                };
                let text = plain_number(text, self.dialect.decimal_comma);
                let rescaled = match (row, member.units, units, text.parse::<f64>()) {
                    (Some(row), Some(own), Some(units), Ok(given)) if own != units => {
                        let metric = row.units.to_metric(given, own);
                        Cow::Owned(row.units.from_metric(metric, units).to_string())
                    }
                    _ => text,
                };
                (member.path.as_str(), rescaled)
            })
            .collect();
        self.service.answer_flat(pairs.iter().map(|(path, text)| (*path, text.as_ref())))
    }

    /// Whether cells that hold numbers write their decimals with a comma.
    pub(super) fn writes_commas(&self, sample: &[u8]) -> bool {
        self.dialect.separator != b','
            && self.sample(sample).any(|row| {
                self.members.iter().zip(&self.sources).any(|(member, source)| {
                    let text = self.text(source, &row);
                    matches!(member.kind, Kind::Number(_))
                        && text.contains(',')
                        && plain_number(&text, true).parse::<f64>().is_ok()
                })
            })
    }

    /// The columns that the answers to the first rows have; those of the
    /// example where none of the rows has an answer.
    pub(super) fn answers_seen(&self, sample: &[u8]) -> Vec<String> {
        let mut columns = Vec::new();
        for row in self.sample(sample).filter(|row| self.fault_of(row).is_none()) {
            let texts: Vec<Cow<'_, str>> =
                self.sources.iter().map(|source| self.text(source, &row)).collect();
            let units = system(self.text(&self.units, &row).trim());
            if let Ok(record) = self.record_of(&texts, units) {
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

    fn sample(&self, sample: &[u8]) -> impl Iterator<Item = ByteRecord> {
        let rows: Vec<ByteRecord> =
            self.reader(sample).byte_records().map_while(Result::ok).take(SAMPLE).collect();
        rows.into_iter()
    }
}

pub(super) fn system(word: &str) -> Option<UnitSystem> {
    let word: serde::de::value::StrDeserializer<'_, serde::de::value::Error> =
        word.into_deserializer();
    UnitSystem::deserialize(word).ok()
}
