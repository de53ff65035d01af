//! An Excel workbook as a package (ECMA-376): one worksheet more, and every other part byte for
//! byte as it was.

use crate::sheet::xml::{attribute, elements, part};
use quick_xml::Reader;
use quick_xml::events::Event;
use std::error::Error;
use std::io::{Cursor, Write};
use sumpwright_openapi::tree::BYTE_ORDER_MARK;
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

const WORKBOOK: &str = "xl/workbook.xml";
const RELATIONSHIPS: &str = "xl/_rels/workbook.xml.rels";
const CONTENT_TYPES: &str = "[Content_Types].xml";
const WORKSHEET: &str = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml";

/// So many numbers of sheets and of relationships are tried.
const MOST: u32 = 100_000;

/// What a new sheet has to know of its workbook.
#[derive(Debug, Default)]
pub(super) struct Facts {
    /// The names of its sheets.
    pub(super) names: Vec<String>,
    /// The namespace of its parts.
    pub(super) namespace: String,
    /// Whether its days are counted from 1904.
    pub(super) from_1904: bool,
    /// Why nothing may be added to it.
    pub(super) closed: Option<&'static str>,
    /// The greatest number of a sheet.
    greatest: u32,
}

type Archive<'f> = ZipArchive<Cursor<&'f [u8]>>;

fn read(archive: &mut Archive<'_>, name: &str) -> Result<Vec<u8>, Box<dyn Error>> {
    part(archive, name)?.ok_or_else(|| format!("it has no {name}").into())
}

/// Reads what a new sheet has to know.
pub(super) fn facts(file: &[u8]) -> Result<Facts, Box<dyn Error>> {
    let mut archive = ZipArchive::new(Cursor::new(file))?;
    let workbook = read(&mut archive, WORKBOOK)?;
    let mut facts = Facts::default();
    elements(&workbook, |element, within| {
        let is = |name: &[u8]| -> Result<bool, Box<dyn Error>> {
            let said = attribute(element, name)?;
            Ok(said.is_some_and(|said| said == "1" || said == "true"))
        };
        match element.local_name().as_ref() {
            b"workbook" if within.is_empty() => {
                let own = match element.name().prefix() {
                    Some(prefix) => [b"xmlns:", prefix.as_ref()].concat(),
                    None => b"xmlns".to_vec(),
                };
                let mut all = element.attributes().filter_map(Result::ok);
                let found = all.find(|attribute| attribute.key.as_ref() == own);
                let found = found.map(|found| String::from_utf8_lossy(&found.value).into_owned());
                facts.namespace = found.unwrap_or_default();
            }
            b"workbookPr" => facts.from_1904 = is(b"date1904")?,
            b"workbookProtection" if is(b"lockStructure")? => {
                facts.closed = Some("its structure is protected");
            }
            b"sheet" if within.last().is_some_and(|holder| holder == b"sheets") => {
                facts.names.push(attribute(element, b"name")?.unwrap_or_default());
                let number = attribute(element, b"sheetId")?.and_then(|id| id.parse().ok());
                facts.greatest = facts.greatest.max(number.unwrap_or(0));
            }
            _ => {}
        }
        Ok(())
    })?;
    if archive.file_names().any(|name| name.starts_with("_xmlsignatures/")) {
        facts.closed = Some("it is signed");
    }
    if facts.names.is_empty() || facts.namespace.is_empty() {
        return Err("its list of sheets is not understood".into());
    }
    Ok(facts)
}

/// The workbook with one sheet more, called `name`.
pub(super) fn with_sheet(
    file: &[u8],
    facts: &Facts,
    name: &str,
    sheet: &[u8],
) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut archive = ZipArchive::new(Cursor::new(file))?;
    let taken: Vec<String> = archive.file_names().map(str::to_lowercase).collect();
    let path = |number: u32| format!("xl/worksheets/sheet{number}.xml");
    let free = (1..=MOST).map(path).find(|path| !taken.contains(path));
    let path = free.ok_or("it has too many sheets")?;

    let relationships = read(&mut archive, RELATIONSHIPS)?;
    let (mut ids, mut kind) = (Vec::new(), None);
    elements(&relationships, |element, _| {
        if element.local_name().as_ref() == b"Relationship" {
            ids.push(attribute(element, b"Id")?.unwrap_or_default());
            let own = attribute(element, b"Type")?;
            kind = kind.take().or(own.filter(|own| own.ends_with("/worksheet")));
        }
        Ok(())
    })?;
    let kind: String = kind.ok_or("it has no worksheet")?;
    let id = (1..=MOST).map(|number| format!("rId{number}")).find(|id| !ids.contains(id));
    let id = id.ok_or("it has too many relationships")?;

    let name = quick_xml::escape::escape(name);
    let number = facts.greatest + 1;
    // Not every workbook says above its list of sheets what `r` is.
    let relation = kind.trim_end_matches("/worksheet");
    let workbook = before_end(&read(&mut archive, WORKBOOK)?, b"sheets", |of| {
        format!(
            "<{of}sheet xmlns:r=\"{relation}\" name=\"{name}\" sheetId=\"{number}\" r:id=\"{id}\"/>"
        )
    })?;
    let relationships = before_end(&relationships, b"Relationships", |of| {
        format!("<{of}Relationship Id=\"{id}\" Type=\"{kind}\" Target=\"/{path}\"/>")
    })?;
    let types = before_end(&read(&mut archive, CONTENT_TYPES)?, b"Types", |of| {
        format!("<{of}Override PartName=\"/{path}\" ContentType=\"{WORKSHEET}\"/>")
    })?;
    let changed = [(WORKBOOK, workbook), (RELATIONSHIPS, relationships), (CONTENT_TYPES, types)];

    let mut written = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default();
    for place in 0..archive.len() {
        let raw = archive.by_index_raw(place)?;
        match changed.iter().find(|(name, _)| *name == raw.name()) {
            None => written.raw_copy_file(raw)?,
            Some((name, content)) => {
                written.start_file(*name, options)?;
                written.write_all(content)?;
            }
        }
    }
    written.start_file(path, options)?;
    written.write_all(sheet)?;
    Ok(written.finish()?.into_inner())
}

/// A document with something more before the end of the element called `name`, whose prefix
/// with its colon `more` is given.
fn before_end(
    document: &[u8],
    name: &[u8],
    more: impl FnOnce(&str) -> String,
) -> Result<Vec<u8>, Box<dyn Error>> {
    std::str::from_utf8(document)?;
    // The reader does not count a byte order mark.
    let mark = if document.starts_with(BYTE_ORDER_MARK) { BYTE_ORDER_MARK.len() } else { 0 };
    let mut reader = Reader::from_reader(&document[mark..]);
    loop {
        let at = mark + usize::try_from(reader.buffer_position())?;
        match reader.read_event()? {
            Event::End(element) if element.local_name().as_ref() == name => {
                let prefix = element.name().prefix();
                let prefix = prefix.map_or(String::new(), |prefix| {
                    format!("{}:", String::from_utf8_lossy(prefix.as_ref()))
                });
                let (before, after) = document.split_at(at);
                return Ok([before, more(&prefix).as_bytes(), after].concat());
            }
            Event::Eof => return Err(String::from_utf8_lossy(name).into_owned().into()),
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn something_more_stands_before_the_end_with_its_prefix() {
        let more = |of: &str| format!("<{of}b/>");
        for (document, expected) in [
            (
                "<?xml version=\"1.0\"?>\n<as><a/> <!-- </as> --></as>\n",
                "<!-- </as> --><b/></as>\n",
            ),
            ("\u{feff}<x:as xmlns:x=\"n\"><x:a>1</x:a></x:as >", "</x:a><x:b/></x:as >"),
        ] {
            let written = before_end(document.as_bytes(), b"as", more).expect("it has an end");
            let written = String::from_utf8(written).expect("text");
            assert!(written.ends_with(expected), "{written}");
            assert_eq!(written.replacen("<b/>", "", 1).replacen("<x:b/>", "", 1), document);
        }
        assert!(before_end(b"<as/>", b"as", more).is_err());
    }
}
