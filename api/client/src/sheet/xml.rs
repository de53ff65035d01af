//! The parts of a workbook, which is a zip archive of XML.

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use std::error::Error;
use std::io::{Read, Seek};
use zip::ZipArchive;

/// A part of a file, if the file has it.
pub(crate) fn part(
    file: &mut ZipArchive<impl Read + Seek>,
    name: &str,
) -> Result<Option<Vec<u8>>, Box<dyn Error>> {
    let Some(place) = file.index_for_name(name) else { return Ok(None) };
    let mut bytes = Vec::new();
    file.by_index(place)?.read_to_end(&mut bytes)?;
    Ok(Some(bytes))
}

/// Calls `see` with each element of a document and the elements around it.
pub(crate) fn elements(
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

/// An attribute by its name, without its prefix unless the name has one.
pub(crate) fn attribute(
    element: &BytesStart<'_>,
    name: &[u8],
) -> Result<Option<String>, Box<dyn Error>> {
    for attribute in element.attributes() {
        let attribute = attribute?;
        if attribute.key.local_name().as_ref() == name || attribute.key.as_ref() == name {
            let text = std::str::from_utf8(&attribute.value)?;
            return Ok(Some(quick_xml::escape::unescape(text)?.into_owned()));
        }
    }
    Ok(None)
}
