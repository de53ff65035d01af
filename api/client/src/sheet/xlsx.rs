//! What the values of a sheet of an Excel workbook (ECMA-376) do not tell. A cell that shows 6 %
//! contains 0.06, and only its style reveals it.

use super::marks::{At, Marks};
use super::xml::{attribute, elements, part};
use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use std::collections::HashSet;
use std::error::Error;
use std::fs::File;
use std::path::Path;
use zip::ZipArchive;

/// A cell that is being read.
#[derive(Default)]
struct Reading {
    at: At,
    is_text: bool,
    has_formula: bool,
    has_value: bool,
}

/// The marks of the sheet named `name`.
pub(super) fn marks(path: &Path, name: &str) -> Result<Marks, Box<dyn Error>> {
    let mut file = ZipArchive::new(File::open(path)?)?;
    let styles = part(&mut file, "xl/styles.xml")?.unwrap_or_default();
    let percent = percent_styles(&styles)?;
    let mut marks = Marks::default();
    let Some(sheet) = part_of(&mut file, name)? else { return Ok(marks) };
    let mut reader = Reader::from_reader(&sheet[..]);
    let (mut row, mut column) = (0, 0);
    let (mut cell, mut in_value) = (Reading::default(), false);
    loop {
        let event = reader.read_event()?;
        match &event {
            Event::Start(element) | Event::Empty(element) => match element.local_name().as_ref() {
                b"row" => {
                    let number = attribute(element, b"r")?.and_then(|number| number.parse().ok());
                    row = number.unwrap_or(row + 1);
                    column = 0;
                }
                b"c" if row > 0 => {
                    let at = attribute(element, b"r")?;
                    column = at.as_deref().and_then(column_of).unwrap_or(column + 1);
                    let at = (row - 1, column - 1);
                    let is_text = attribute(element, b"t")?.as_deref() == Some("str");
                    cell = Reading { at, is_text, ..Reading::default() };
                    let style = attribute(element, b"s")?.and_then(|style| style.parse().ok());
                    let style = style.unwrap_or(0_usize);
                    if percent.contains(&style) {
                        marks.percentages.insert(at);
                    }
                    if style > 0 {
                        marks.styles.insert(at, style);
                    }
                }
                b"f" => cell.has_formula = true,
                b"v" => in_value = matches!(event, Event::Start(_)),
                b"mergeCell" => marks.merged.extend(merged(element)?),
                _ => {}
            },
            Event::Text(text) if in_value => {
                cell.has_value |= !text.trim_ascii().is_empty();
            }
            Event::End(element) => match element.local_name().as_ref() {
                b"v" => in_value = false,
                // The value of a formula that is an empty text is empty.
                b"c" if cell.has_formula && !cell.has_value && !cell.is_text => {
                    marks.unstored.insert(cell.at);
                }
                _ => {}
            },
            Event::Eof => return Ok(marks),
            _ => {}
        }
    }
}

/// The first and the last of merged cells, from a name such as D2:D3.
fn merged(element: &BytesStart<'_>) -> Result<Option<(At, At)>, Box<dyn Error>> {
    let at = |name: &str| -> Option<At> {
        let row: usize =
            name.trim_start_matches(|letter: char| letter.is_alphabetic()).parse().ok()?;
        Some((row.checked_sub(1)?, column_of(name)? - 1))
    };
    let cells = attribute(element, b"ref")?.unwrap_or_default();
    Ok(cells.split_once(':').and_then(|(first, last)| Some((at(first)?, at(last)?))))
}

/// The part of the file that contains a sheet.
fn part_of(file: &mut ZipArchive<File>, name: &str) -> Result<Option<Vec<u8>>, Box<dyn Error>> {
    let mut id = None;
    elements(&part(file, "xl/workbook.xml")?.unwrap_or_default(), |element, _| {
        if element.local_name().as_ref() == b"sheet"
            && attribute(element, b"name")?.as_deref() == Some(name)
        {
            id = attribute(element, b"id")?;
        }
        Ok(())
    })?;
    let mut target = None;
    elements(&part(file, "xl/_rels/workbook.xml.rels")?.unwrap_or_default(), |element, _| {
        if element.local_name().as_ref() == b"Relationship" && attribute(element, b"Id")? == id {
            target = attribute(element, b"Target")?;
        }
        Ok(())
    })?;
    let Some(target) = target else { return Ok(None) };
    let whole = match target.strip_prefix('/') {
        Some(whole) => whole.to_owned(),
        None => format!("xl/{target}"),
    };
    part(file, &whole)
}

/// The cell styles that show a percentage.
fn percent_styles(styles: &[u8]) -> Result<HashSet<usize>, Box<dyn Error>> {
    // The built-in formats 0% and 0.00%.
    let mut formats = HashSet::from(["9".to_owned(), "10".to_owned()]);
    let mut found = HashSet::new();
    let mut number = 0;
    elements(styles, |element, within| {
        match element.local_name().as_ref() {
            b"numFmt" => {
                let (id, code) =
                    (attribute(element, b"numFmtId")?, attribute(element, b"formatCode")?);
                if let Some(id) = id.filter(|_| code.is_some_and(|code| shows_percent(&code))) {
                    formats.insert(id);
                }
            }
            b"xf" if within.iter().any(|holder| holder == b"cellXfs") => {
                if attribute(element, b"numFmtId")?.is_some_and(|id| formats.contains(&id)) {
                    found.insert(number);
                }
                number += 1;
            }
            _ => {}
        }
        Ok(())
    })?;
    Ok(found)
}

/// Whether a format has a percent sign outside literal text.
fn shows_percent(format: &str) -> bool {
    let mut letters = format.chars();
    let mut quoted = false;
    while let Some(letter) = letters.next() {
        match letter {
            '"' => quoted = !quoted,
            '\\' | '_' | '*' if !quoted => drop(letters.next()),
            '%' if !quoted => return true,
            _ => {}
        }
    }
    false
}

/// The column of a cell's name such as B7, counted from 1.
pub(super) fn column_of(name: &str) -> Option<usize> {
    let letters = name.bytes().take_while(u8::is_ascii_alphabetic);
    let number = letters.fold(0, |number: usize, letter| {
        number
            .saturating_mul(26)
            .saturating_add(usize::from(letter.to_ascii_uppercase() - b'A') + 1)
    });
    Some(number).filter(|number| *number > 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_per_cent_sign_in_a_text_makes_no_percentage() {
        for format in ["0%", "0.00%", "0.0 %", "#,##0%;[Red]-0%", "\"about \"0%"] {
            assert!(shows_percent(format), "{format}");
        }
        for format in ["General", "0.0", "0.0\" % by volume\"", "0.0\\%", "0.0_%", "@"] {
            assert!(!shows_percent(format), "{format}");
        }
    }
}
