//! A row of a table read straight into a question, without a document between.
//!
//! The headings are made into a tree once; each row is then read along it by
//! serde. Numbers cross the unit border on the way, by the same rows of the
//! table of quantities as those of a document.

use super::member::{CellKind, Member, plain_number};
use csv::StringRecord;
use serde::de::value::Error;
use serde::de::{
    DeserializeSeed, Deserializer, Error as _, IntoDeserializer, MapAccess, SeqAccess, Visitor,
};
use serde::forward_to_deserialize_any;
use sumpwright_engine::quantity::UnitSystem;

/// The members that a table's columns and its query give, as a tree.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Branch {
    /// Members of an object.
    Record(Vec<(String, Branch)>),
    /// Entries of a list, by their number.
    List(Vec<Option<Branch>>),
    /// A cell, by the number of its member.
    Leaf(usize),
}

impl Branch {
    /// An object without members.
    #[must_use]
    pub(crate) const fn root() -> Self {
        Self::Record(Vec::new())
    }

    /// Adds a member at a path of steps, each with whether it is an entry of a list.
    /// False where something lies at or above the path already.
    pub(crate) fn insert(&mut self, steps: &[(&str, bool)], member: usize) -> bool {
        let Some(((step, _), deeper)) = steps.split_first() else { return false };
        let fresh = || match deeper.first() {
            None => Self::Leaf(member),
            Some((_, true)) => Self::List(Vec::new()),
            Some((_, false)) => Self::root(),
        };
        let branch = match self {
            Self::Leaf(_) => return false,
            Self::Record(members) => {
                let place = members.iter().position(|(name, _)| name == step);
                let Some(place) = place else {
                    members.push(((*step).to_owned(), fresh()));
                    return members.last_mut().is_some_and(|(_, branch)| {
                        deeper.is_empty() || branch.insert(deeper, member)
                    });
                };
                &mut members[place].1
            }
            Self::List(entries) => {
                let Ok(place) = step.parse::<usize>() else { return false };
                if entries.len() <= place {
                    entries.resize_with(place + 1, || None);
                }
                let entry = &mut entries[place];
                if entry.is_none() {
                    let entry = entry.insert(fresh());
                    return deeper.is_empty() || entry.insert(deeper, member);
                }
                let Some(entry) = entry else { return false };
                entry
            }
        };
        branch.insert(deeper, member)
    }
}

/// Where a member's text comes from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Source {
    Cell(usize),
    Everywhere(String),
}

impl Source {
    /// The text in a row; nothing where the row is too short.
    pub(crate) fn in_row<'t>(&'t self, row: &'t csv::StringRecord) -> &'t str {
        match self {
            Self::Cell(i) => row.get(*i).unwrap_or_default(),
            Self::Everywhere(text) => text,
        }
    }
}

/// The cells of one row, as texts of the members.
pub(crate) struct Cells<'a> {
    /// The members.
    pub(crate) members: &'a [Member],
    /// Where the text of each stands; a blank one is not given.
    pub(crate) sources: &'a [Source],
    /// The row.
    pub(crate) row: &'a StringRecord,
    /// The system of units of the row.
    pub(crate) units: UnitSystem,
    /// Whether decimals are written with a comma.
    pub(crate) decimal_comma: bool,
}

impl<'a> Cells<'a> {
    /// A deserializer for the whole row.
    #[must_use]
    pub(crate) fn along(&'a self, branch: &'a Branch) -> Place<'a> {
        Place { branch, cells: self }
    }

    /// The text of a member.
    pub(crate) fn text(&self, member: usize) -> &'a str {
        self.sources[member].in_row(self.row)
    }

    fn given(&self, branch: &Branch) -> bool {
        match branch {
            Branch::Leaf(member) => !self.text(*member).trim_ascii().is_empty(),
            Branch::Record(members) => members.iter().any(|(_, branch)| self.given(branch)),
            Branch::List(entries) => entries.iter().flatten().any(|branch| self.given(branch)),
        }
    }

    /// The number in a cell, metric.
    fn number(&self, member: usize) -> Result<f64, Error> {
        let Member { kind, units, .. } = &self.members[member];
        let text = plain_number(self.text(member), self.decimal_comma);
        let given: f64 = text.parse().map_err(|_| Error::custom("not a number"))?;
        Ok(match kind {
            CellKind::Number(Some(row)) => row.units.to_metric(given, units.unwrap_or(self.units)),
            _ => given,
        })
    }
}

/// A place in a row's tree.
#[derive(Clone, Copy)]
pub(crate) struct Place<'a> {
    branch: &'a Branch,
    cells: &'a Cells<'a>,
}

impl<'de> Deserializer<'de> for Place<'de> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        let cells = self.cells;
        match self.branch {
            Branch::Record(members) => {
                visitor.visit_map(Walk { cells, members: members.iter(), value: None })
            }
            Branch::List(entries) => visitor.visit_seq(Entries { cells, entries: entries.iter() }),
            Branch::Leaf(member) => match cells.members[*member].kind {
                CellKind::Number(None) => match cells.text(*member).trim().parse::<u64>() {
                    Ok(whole) => visitor.visit_u64(whole),
                    Err(_) => visitor.visit_f64(cells.number(*member)?),
                },
                CellKind::Number(_) => visitor.visit_f64(cells.number(*member)?),
                CellKind::Truth => match cells.text(*member).trim() {
                    "true" => visitor.visit_bool(true),
                    "false" => visitor.visit_bool(false),
                    _ => Err(Error::custom("neither true nor false")),
                },
                CellKind::Text => visitor.visit_borrowed_str(cells.text(*member)),
            },
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        match self.branch {
            Branch::Leaf(member) => {
                visitor.visit_enum(self.cells.text(*member).into_deserializer())
            }
            _ => self.deserialize_any(visitor),
        }
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit
        unit_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}

struct Walk<'a> {
    cells: &'a Cells<'a>,
    members: std::slice::Iter<'a, (String, Branch)>,
    value: Option<&'a Branch>,
}

impl<'de> MapAccess<'de> for Walk<'de> {
    type Error = Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Error> {
        let cells = self.cells;
        let Some((name, branch)) = self.members.find(|(_, branch)| cells.given(branch)) else {
            return Ok(None);
        };
        self.value = Some(branch);
        let name = serde::de::value::BorrowedStrDeserializer::new(name.as_str());
        seed.deserialize(name).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Error> {
        let branch = self.value.take().ok_or_else(|| Error::custom("no value is due"))?;
        seed.deserialize(Place { branch, cells: self.cells })
    }
}

struct Entries<'a> {
    cells: &'a Cells<'a>,
    entries: std::slice::Iter<'a, Option<Branch>>,
}

impl<'de> SeqAccess<'de> for Entries<'de> {
    type Error = Error;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Error> {
        let cells = self.cells;
        let given =
            |entry: &Option<Branch>| entry.as_ref().is_some_and(|branch| cells.given(branch));
        match self.entries.next() {
            Some(Some(branch)) if cells.given(branch) => {
                seed.deserialize(Place { branch, cells }).map(Some)
            }
            Some(_) if self.entries.clone().any(given) => Err(Error::custom("an entry is missing")),
            _ => Ok(None),
        }
    }
}
