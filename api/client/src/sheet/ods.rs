//! What the values of an OpenDocument sheet (ISO/IEC 26300) do not tell.

use super::marks::Marks;
use super::xml::{attribute, part};
use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use std::error::Error;
use std::fs::File;
use std::path::Path;
use zip::ZipArchive;

/// Where in a sheet the reader is.
#[derive(Default)]
struct Place {
    /// Whether it is in the sheet that is asked for.
    here: bool,
    row: usize,
    rows: usize,
    column: usize,
    columns: usize,
    /// Whether it is in a cell whose formula came to nothing.
    in_error: bool,
}

/// The marks of the sheet named `name`, up to the last cell that is not empty.
pub(super) fn marks(
    path: &Path,
    name: &str,
    last: (usize, usize),
) -> Result<Marks, Box<dyn Error>> {
    let mut file = ZipArchive::new(File::open(path)?)?;
    let content = part(&mut file, "content.xml")?.unwrap_or_default();
    let (mut marks, mut place) = (Marks::default(), Place::default());
    let mut reader = Reader::from_reader(&content[..]);
    loop {
        match reader.read_event()? {
            Event::Start(element) => place.enter(&element, name, last, &mut marks)?,
            Event::Empty(element) => {
                place.enter(&element, name, last, &mut marks)?;
                place.in_error = false;
            }
            Event::Text(text) if place.in_error => {
                let error = String::from_utf8_lossy(&text).into_owned();
                for at in place.cells(last) {
                    marks.errors.insert(at, error.clone());
                }
            }
            Event::End(element) => match element.local_name().as_ref() {
                b"table" => place.here = false,
                b"table-cell" => place.in_error = false,
                _ => {}
            },
            Event::Eof => return Ok(marks),
            _ => {}
        }
    }
}

impl Place {
    fn enter(
        &mut self,
        element: &BytesStart<'_>,
        name: &str,
        last: (usize, usize),
        marks: &mut Marks,
    ) -> Result<(), Box<dyn Error>> {
        let number = |name: &[u8]| -> Result<usize, Box<dyn Error>> {
            Ok(attribute(element, name)?.and_then(|times| times.parse().ok()).unwrap_or(1))
        };
        match element.local_name().as_ref() {
            b"table" => {
                let here = attribute(element, b"name")?.as_deref() == Some(name);
                *self = Self { here, ..Self::default() };
            }
            b"table-row" if self.here => {
                self.row += self.rows;
                self.rows = number(b"number-rows-repeated")?;
                (self.column, self.columns) = (0, 0);
            }
            b"table-cell" | b"covered-table-cell" if self.here => {
                self.column += self.columns;
                self.columns = number(b"number-columns-repeated")?;
                let kind = attribute(element, b"office:value-type")?;
                self.in_error =
                    attribute(element, b"calcext:value-type")?.as_deref() == Some("error");
                if kind.as_deref() == Some("percentage") {
                    marks.percentages.extend(self.cells(last));
                }
                if kind.is_none() && attribute(element, b"formula")?.is_some() {
                    marks.unstored.extend(self.cells(last));
                }
                let down = number(b"number-rows-spanned")?;
                let across = number(b"number-columns-spanned")?;
                if down > 1 || across > 1 {
                    let first = (self.row, self.column);
                    marks.merged.push((first, (first.0 + down - 1, first.1 + across - 1)));
                }
            }
            _ => {}
        }
        Ok(())
    }

    /// The cells that stand here as one, as far as the last of the sheet.
    fn cells(&self, last: (usize, usize)) -> impl Iterator<Item = (usize, usize)> + use<> {
        let rows = self.row..(self.row + self.rows).min(last.0 + 1);
        let columns = self.column..(self.column + self.columns).min(last.1 + 1);
        rows.flat_map(move |row| columns.clone().map(move |column| (row, column)))
    }
}
