//! Finds the cells of a workbook that are percentages. Such a cell shows 6 % and contains
//! 0.06, which the number alone does not reveal.

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use std::collections::HashSet;
use std::error::Error;
use std::fs::File;
use std::io::Read;
use std::path::Path;
use zip::ZipArchive;

/// Cells by row and column, counted from 0.
pub(crate) type Places = HashSet<(usize, usize)>;

/// The percentages of an Excel workbook (ECMA-376) on the sheet named `name`.
pub(crate) fn of_xlsx(path: &Path, name: &str) -> Result<Places, Box<dyn Error>> {
    let mut file = ZipArchive::new(File::open(path)?)?;
    let styles = match part(&mut file, "xl/styles.xml")? {
        Some(styles) => percent_styles(&styles)?,
        None => return Ok(Places::new()),
    };
    let Some(sheet) = sheet_of_xlsx(&mut file, name)? else { return Ok(Places::new()) };
    let mut found = Places::new();
    let (mut row, mut column) = (0, 0);
    elements(&sheet, |element, _| {
        match element.local_name().as_ref() {
            b"row" => {
                let number = attribute(element, b"r")?.and_then(|number| number.parse().ok());
                row = number.unwrap_or(row + 1);
                column = 0;
            }
            b"c" => {
                let at = attribute(element, b"r")?;
                column = at.as_deref().and_then(column_of).unwrap_or(column + 1);
                let style = attribute(element, b"s")?.and_then(|style| style.parse().ok());
                if styles.contains(&style.unwrap_or(0_usize)) && row > 0 {
                    found.insert((row - 1, column - 1));
                }
            }
            _ => {}
        }
        Ok(())
    })?;
    Ok(found)
}

/// The part of the file that contains a sheet.
fn sheet_of_xlsx(
    file: &mut ZipArchive<File>,
    name: &str,
) -> Result<Option<Vec<u8>>, Box<dyn Error>> {
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
fn column_of(name: &str) -> Option<usize> {
    let letters = name.bytes().take_while(u8::is_ascii_alphabetic);
    let number = letters.fold(0, |number: usize, letter| {
        number
            .saturating_mul(26)
            .saturating_add(usize::from(letter.to_ascii_uppercase() - b'A') + 1)
    });
    Some(number).filter(|number| *number > 0)
}

/// The percentages of an OpenDocument workbook (ISO/IEC 26300) on the sheet named
/// `name`, up to the last cell that is not empty.
pub(crate) fn of_ods(
    path: &Path,
    name: &str,
    last: (usize, usize),
) -> Result<Places, Box<dyn Error>> {
    let mut file = ZipArchive::new(File::open(path)?)?;
    let content = part(&mut file, "content.xml")?.unwrap_or_default();
    let mut found = Places::new();
    let (mut here, mut row, mut rows, mut column) = (false, 0, 0, 0);
    let repeated = |element: &BytesStart<'_>, name: &[u8]| -> Result<usize, Box<dyn Error>> {
        Ok(attribute(element, name)?.and_then(|times| times.parse().ok()).unwrap_or(1))
    };
    elements(&content, |element, _| {
        match element.local_name().as_ref() {
            b"table" => {
                here = attribute(element, b"name")?.as_deref() == Some(name);
                (row, rows) = (0, 0);
            }
            b"table-row" if here => {
                row += rows;
                rows = repeated(element, b"number-rows-repeated")?;
                column = 0;
            }
            b"table-cell" | b"covered-table-cell" if here => {
                let columns = repeated(element, b"number-columns-repeated")?;
                if attribute(element, b"value-type")?.as_deref() == Some("percentage") {
                    for row in row..(row + rows).min(last.0 + 1) {
                        found.extend(
                            (column..(column + columns).min(last.1 + 1)).map(|at| (row, at)),
                        );
                    }
                }
                column += columns;
            }
            _ => {}
        }
        Ok(())
    })?;
    Ok(found)
}

/// A part of a file, if the file has it.
fn part(file: &mut ZipArchive<File>, name: &str) -> Result<Option<Vec<u8>>, Box<dyn Error>> {
    let Some(place) = file.index_for_name(name) else { return Ok(None) };
    let mut bytes = Vec::new();
    file.by_index(place)?.read_to_end(&mut bytes)?;
    Ok(Some(bytes))
}

/// Calls `see` with each element of a document and the elements around it.
fn elements(
    document: &[u8],
    mut see: impl FnMut(&BytesStart<'_>, &[Vec<u8>]) -> Result<(), Box<dyn Error>>,
) -> Result<(), Box<dyn Error>> {
    let mut reader = Reader::from_reader(document);
    let mut within = Vec::new();
    loop {
        match reader.read_event()? {
            Event::Start(element) => {
                see(&element, &within)?;
                within.push(element.local_name().as_ref().to_vec());
            }
            Event::Empty(element) => see(&element, &within)?,
            Event::End(_) => drop(within.pop()),
            Event::Eof => return Ok(()),
            _ => {}
        }
    }
}

/// An attribute by its name without its prefix.
fn attribute(element: &BytesStart<'_>, name: &[u8]) -> Result<Option<String>, Box<dyn Error>> {
    for attribute in element.attributes() {
        let attribute = attribute?;
        if attribute.key.local_name().as_ref() == name {
            let text = std::str::from_utf8(&attribute.value)?;
            return Ok(Some(quick_xml::escape::unescape(text)?.into_owned()));
        }
    }
    Ok(None)
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

    #[test]
    fn a_cell_says_its_column() {
        assert_eq!(column_of("A1"), Some(1));
        assert_eq!(column_of("Z1"), Some(26));
        assert_eq!(column_of("AB12"), Some(28));
        assert_eq!(column_of("12"), None);
    }
}
