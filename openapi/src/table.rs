//! A table in, a table out: a row a document.
//!
//! The headings are read once and say where each cell belongs; rows are then
//! answered one by one, in any number of pieces and on any number of threads, so
//! that memory does not grow with the rows. The caller's columns come back as
//! they came, with the answer's after them and, in each row that could not be
//! answered, a sentence in `problem`.

mod cells;
mod dialect;
mod guard;
mod heading;
mod leaves;
mod list;
mod numbers;
mod rows;
mod spelling;
mod unit_words;

pub(crate) use cells::{Cells, Place};
pub use dialect::{BYTE_ORDER_MARK, Dialect, RowEnds};
pub use guard::harmless;
pub(crate) use leaves::{Leaves, Node};
pub use list::{as_list, heads_numbers};
pub(crate) use rows::Straight;

use crate::envelope::UNITS;
use crate::flat;
use crate::problem::{Fault, Problem, ProblemKind};
use crate::service::Service;
use crate::shape::{Shape, rescale_alike};
use crate::steps::steps_of;
use cells::Branch;
use heading::{Column, Member};
use std::borrow::Cow;
use std::sync::Arc;

/// The column that says why a row has no answer.
pub const PROBLEM_COLUMN: &str = "problem";

/// Why a whole table cannot be read.
#[derive(Debug)]
pub struct Refused(ProblemKind, String);

impl Refused {
    fn heading(detail: String) -> Self {
        Self(ProblemKind::Malformed, detail)
    }

    fn not_understood(detail: &str) -> Self {
        Self(ProblemKind::UnsupportedMediaType, detail.to_owned())
    }
}

impl From<Refused> for Problem {
    fn from(Refused(kind, detail): Refused) -> Self {
        Self::new(kind, Fault::new("", detail))
    }
}

/// What a query says about a table.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// Members that are the same for every row, by their path.
    pub everywhere: Vec<(String, String)>,
    /// The answer's columns; those that the first rows' answers have when left out.
    pub columns: Option<Vec<String>>,
    /// Whether the letters are those of windows-1252.
    pub latin: bool,
    /// Whether decimals are written with a comma; seen from the first rows when left out.
    pub decimal_comma: Option<bool>,
}

/// A table whose headings have been read, ready to answer rows.
pub struct Table {
    service: Arc<Service>,
    dialect: Dialect,
    headings: Vec<Vec<u8>>,
    members: Vec<Member>,
    /// For each member the cell it stands in, or the text it has everywhere.
    sources: Vec<Source>,
    tree: Branch,
    units: Source,
    answers: Answers,
}

/// Where a member's text comes from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Source {
    Cell(usize),
    Everywhere(String),
}

impl Source {
    /// The text in a row; nothing where the row is too short.
    fn in_row<'t>(&'t self, row: &'t csv::StringRecord) -> &'t str {
        match self {
            Self::Cell(i) => row.get(*i).unwrap_or_default(),
            Self::Everywhere(text) => text,
        }
    }
}

/// The answer's columns.
struct Answers {
    paths: Vec<String>,
    node: Node,
    /// Whether columns lie outside the answer proper, and the whole record has to
    /// be written.
    of_record: bool,
    /// Whether the units of a number are known only when its answer is, because
    /// branches of a choice differ in them.
    mixed: bool,
    /// Whether the caller chose them.
    chosen: bool,
}

impl Table {
    /// Reads the first row of a table, and the rows of `sample` for what they
    /// show of the rest.
    pub fn open(
        service: Arc<Service>,
        headings: &[u8],
        sample: &[u8],
        options: &Options,
    ) -> Result<Self, Problem> {
        let headings = headings.strip_prefix(BYTE_ORDER_MARK).unwrap_or(headings);
        let dialect = Dialect::of(headings, options.latin)?;
        let headings = read_headings(headings, dialect)?;
        let mut table = Self {
            service,
            dialect,
            members: Vec::new(),
            sources: Vec::new(),
            tree: Branch::root(),
            units: Source::Everywhere(String::new()),
            answers: Answers {
                paths: Vec::new(),
                node: Node::default(),
                of_record: false,
                mixed: false,
                chosen: options.columns.is_some(),
            },
            headings,
        };
        table.read_columns(options)?;
        table.dialect.decimal_comma =
            options.decimal_comma.unwrap_or_else(|| table.writes_commas(sample));
        let paths = match &options.columns {
            Some(chosen) => chosen.clone(),
            None => table.answers_seen(sample),
        };
        table.set_answers(paths)?;
        Ok(table)
    }

    fn read_columns(&mut self, options: &Options) -> Result<(), Problem> {
        for (i, heading) in self.headings.clone().into_iter().enumerate() {
            let text = self.dialect.text(&heading).ok_or_else(not_utf_8)?;
            if self.is_of_answer(&text) {
                return Err(Refused::heading(format!(
                    "A column is headed {text:?}, as a column of the answer would be. Rename it, \
                     or leave it out."
                ))
                .into());
            }
            if let Column::Member(member) = Column::of(&text, &self.service.question)? {
                self.add(member, Source::Cell(i))?;
            }
        }
        for (path, text) in &options.everywhere {
            match Column::of(path, &self.service.question)? {
                Column::Member(member) => self.add(member, Source::Everywhere(text.clone()))?,
                Column::Own => {
                    let detail = format!(
                        "The query names {path:?}, which is no member of the question and no \
                         option of a table."
                    );
                    return Err(Refused::heading(detail).into());
                }
            }
        }
        Ok(())
    }

    /// Whether a heading is that of a column of the answer, in whatever case.
    fn is_of_answer(&self, heading: &str) -> bool {
        let heading = heading.trim().to_lowercase();
        heading == PROBLEM_COLUMN || heading.contains('.') && self.service.record.has_path(&heading)
    }

    fn add(&mut self, member: Member, source: Source) -> Result<(), Refused> {
        if member.path == UNITS {
            self.units = source.clone();
        }
        let steps = self.steps(&member.path);
        let steps: Vec<(&str, bool)> =
            steps.iter().map(|(step, entry)| (step.as_str(), *entry)).collect();
        if !self.tree.insert(&steps, self.members.len()) {
            return Err(Refused::heading(format!(
                "The member {:?} is given twice, or something above it has a value of its own.",
                member.path
            )));
        }
        self.members.push(member);
        self.sources.push(source);
        Ok(())
    }

    /// The steps of a path, and which of them are entries of lists.
    fn steps(&self, path: &str) -> Vec<(String, bool)> {
        let mut shape = Some(&self.service.question);
        path.split('.')
            .map(|step| {
                let list = matches!(shape, Some(Shape::List(..)));
                shape = match shape {
                    Some(Shape::List(entry, _)) => Some(entry.as_ref()),
                    Some(shape) => shape.member(step),
                    None => None,
                };
                (step.to_owned(), list)
            })
            .collect()
    }

    fn set_answers(&mut self, paths: Vec<String>) -> Result<(), Refused> {
        let record = &self.service.record;
        if let Some(unknown) = paths.iter().find(|path| !record.has_path(path)) {
            return Err(Refused::heading(format!("The answer has nothing at {unknown:?}.")));
        }
        let mut root = Node::default();
        for (column, path) in paths.iter().enumerate() {
            root.insert(path, record, column);
        }
        let of_record = paths.iter().any(|path| !path.starts_with(ANSWER_PREFIX));
        let mut node = match root.member(ANSWER) {
            Some(answer) if !of_record => answer.clone(),
            _ => root,
        };
        if let Some((steps, _)) = steps_of(record)
            && !self.answers.chosen
        {
            node.pass_over(steps);
        }
        self.answers.mixed = paths.iter().any(|path| {
            let rows = record.quantities_at(path);
            rows.windows(2).any(|two| !rescale_alike(two[0], two[1]))
        });
        self.answers.paths = paths;
        self.answers.node = node;
        self.answers.of_record = of_record;
        Ok(())
    }

    /// The first row of the answer: the caller's headings and the answer's.
    #[must_use]
    pub fn heading(&self) -> Vec<u8> {
        let mut writer = self.writer(Vec::new());
        let own = self.headings.iter().map(|heading| self.harmless(heading));
        let answers = self.answers.paths.iter();
        let answers = answers.map(|path| Cow::Owned(self.headed(path).into_bytes()));
        let problem = std::iter::once(Cow::Borrowed(PROBLEM_COLUMN.as_bytes()));
        // A writer into memory does not fail.
        let _ = writer.write_record(own.chain(answers).chain(problem));
        writer.into_inner().unwrap_or_default()
    }

    /// A path of the answer as a heading, with its unit where that is the same in
    /// every row.
    fn headed(&self, path: &str) -> String {
        let units = match &self.units {
            Source::Everywhere(word) => rows::system(word.trim()),
            Source::Cell(_) => None,
        };
        let rows = self.service.record.quantities_at(path);
        let (Some(units), Some(row)) = (units, rows.first()) else { return path.to_owned() };
        let code = row.units.in_system(units).code;
        let differs = rows.iter().any(|row| row.units.in_system(units).code != code);
        match code {
            code if differs || code == "1" => path.to_owned(),
            code if code.starts_with('[') && code.ends_with(']') => format!("{path} {code}"),
            code => format!("{path} [{code}]"),
        }
    }

    /// A cell of the caller's own, in UTF-8, disarmed where a spreadsheet would
    /// execute it.
    fn harmless<'c>(&self, cell: &'c [u8]) -> Cow<'c, [u8]> {
        // Most cells begin with a letter or a digit and are left alone at once.
        if cell.is_ascii() && cell.first().is_none_or(u8::is_ascii_alphanumeric) {
            return Cow::Borrowed(cell);
        }
        let text = self.dialect.text(cell).or_else(|| self.dialect.in_latin().text(cell));
        let text = text.unwrap_or_default();
        Cow::Owned(guard::harmless(&text).into_owned().into_bytes())
    }

    fn writer(&self, into: Vec<u8>) -> csv::Writer<Vec<u8>> {
        csv::WriterBuilder::new().delimiter(self.dialect.separator).flexible(true).from_writer(into)
    }
}

const ANSWER: &str = "answer";
const ANSWER_PREFIX: &str = "answer.";

fn not_utf_8() -> Problem {
    Refused::heading(
        "The table is not in UTF-8. Save it as CSV in UTF-8, or say charset=windows-1252 \
         in its Content-Type."
            .to_owned(),
    )
    .into()
}

fn read_headings(headings: &[u8], dialect: Dialect) -> Result<Vec<Vec<u8>>, Refused> {
    let mut first = csv::ByteRecord::new();
    let read = dialect.reader(headings).read_byte_record(&mut first).unwrap_or(false);
    if !read || first.iter().all(|heading| heading.trim_ascii().is_empty()) {
        return Err(Refused::heading(
            "The table has no headings. Its first row names the members of the question."
                .to_owned(),
        ));
    }
    Ok(first.iter().map(<[u8]>::to_vec).collect())
}

/// Adds the columns of `later` that are not there yet, each after what it follows.
pub fn merge(columns: &mut Vec<String>, later: impl IntoIterator<Item = String>) {
    let mut place = 0;
    for path in later {
        if let Some(known) = columns.iter().position(|known| *known == path) {
            place = known + 1;
        } else {
            columns.insert(place, path);
            place += 1;
        }
    }
}

/// A record, or a part of it, as a name and a value a line.
#[must_use]
pub fn names_and_values(record: &serde_json::Value, decimal_comma: bool) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // A writer into memory does not fail.
    let _ = writer.write_record(["name", "value"]);
    for (path, leaf) in flat::flatten(record) {
        let text = flat::shown(leaf, decimal_comma);
        let _ = writer.write_record([path.as_str(), &guard::harmless(&text)]);
    }
    writer.into_inner().unwrap_or_default()
}

/// The paths of an answer's leaves, without its steps.
fn paths_of(record: &serde_json::Value, service: &Service) -> Vec<String> {
    let steps = steps_of(&service.record).map(|(name, _)| format!("{ANSWER_PREFIX}{name}."));
    let leaves = flat::flatten(record).into_iter().map(|(path, _)| path);
    leaves
        .filter(|path| path.starts_with(ANSWER_PREFIX))
        .filter(|path| steps.as_ref().is_none_or(|steps| !path.starts_with(steps)))
        .collect()
}
