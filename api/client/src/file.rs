//! Files read and written whole, and why one cannot be, by its name.

use std::fs::{File, OpenOptions};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// Why a file cannot be read or written.
#[derive(Debug, thiserror::Error)]
pub enum FileError {
    /// It is not there.
    #[error("There is no file {}.", .0.display())]
    Missing(PathBuf),
    /// It is there and cannot be read.
    #[error("{} cannot be read: {}.", .0.display(), .1)]
    Unreadable(PathBuf, io::Error),
    /// Its ending is a workbook's, and its content is not.
    #[error(
        "{} cannot be read as a workbook. It is damaged, protected by a password, or another kind \
         of file. Open it in a spreadsheet and save it as .xlsx or .ods.", .0.display()
    )]
    NoWorkbook(PathBuf),
    /// It cannot be written.
    #[error("{}", why_unwritable(.0, .1))]
    Unwritable(PathBuf, io::Error),
    /// Something about it that a person can correct.
    #[error("{0}")]
    Unfit(String),
}

/// The content of a file.
pub(crate) fn read(path: &Path) -> Result<Vec<u8>, FileError> {
    std::fs::read(path).map_err(|error| why_unreadable(path, error))
}

fn why_unreadable(path: &Path, error: io::Error) -> FileError {
    match error.kind() {
        ErrorKind::NotFound => FileError::Missing(path.to_owned()),
        _ => FileError::Unreadable(path.to_owned(), error),
    }
}

/// A file to be read bit by bit.
pub(crate) fn open(path: &Path) -> Result<File, FileError> {
    File::open(path).map_err(|error| why_unreadable(path, error))
}

/// A file to be written bit by bit.
pub(crate) fn create(path: &Path) -> Result<File, FileError> {
    File::create(path).map_err(|error| FileError::Unwritable(path.to_owned(), error))
}

/// Writes a file.
pub(crate) fn write(path: &Path, content: &[u8]) -> Result<(), FileError> {
    std::fs::write(path, content).map_err(|error| FileError::Unwritable(path.to_owned(), error))
}

/// Tries whether a file can be written, and leaves all as it was.
pub(crate) fn check_writable(path: &Path) -> Result<(), FileError> {
    let was_there = path.symlink_metadata().is_ok();
    let opened = OpenOptions::new().append(true).create(true).open(path);
    opened.map_err(|error| FileError::Unwritable(path.to_owned(), error))?;
    if !was_there {
        // Whether it can be removed or not, it can be written.
        let _ = std::fs::remove_file(path);
    }
    Ok(())
}

fn why_unwritable(path: &Path, error: &io::Error) -> String {
    let file = path.display();
    match error.kind() {
        ErrorKind::NotFound => {
            let folder = path.parent().unwrap_or(path).display();
            format!("There is no folder {folder} to write {file} into.")
        }
        ErrorKind::StorageFull => {
            format!("There is no room for {file} on its disk. Name a file on another one.")
        }
        ErrorKind::PermissionDenied | ErrorKind::ResourceBusy => in_use(path),
        // What Windows says of a file that a spreadsheet has open.
        _ if cfg!(windows) && error.raw_os_error() == Some(32) => in_use(path),
        _ => format!("{file} cannot be written: {error}."),
    }
}

fn in_use(path: &Path) -> String {
    format!(
        "{} cannot be written. Close it if a spreadsheet has it open, or name another file: it may \
         be one that you are not allowed to change.",
        path.display()
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn why_a_file_cannot_be_written_is_said_with_its_name() {
        for (kind, part) in [
            (ErrorKind::PermissionDenied, "Close it if a spreadsheet has it open"),
            (ErrorKind::StorageFull, "no room"),
            (ErrorKind::NotFound, "no folder below"),
            (ErrorKind::IsADirectory, "cannot be written: "),
        ] {
            let error = FileError::Unwritable("below/o.csv".into(), kind.into()).to_string();
            assert!(error.contains("below/o.csv") && error.contains(part), "{error}");
        }
    }

    #[test]
    fn trying_whether_a_file_can_be_written_leaves_all_as_it_was() {
        let folder = tempfile::tempdir().expect("a folder");
        let at = |name: &str| folder.path().join(name);
        check_writable(&at("new.csv")).expect("it can");
        assert!(!at("new.csv").exists());
        std::fs::write(at("old.csv"), "mine").expect("a file");
        check_writable(&at("old.csv")).expect("it can");
        assert_eq!(std::fs::read_to_string(at("old.csv")).expect("the file"), "mine");
        check_writable(&at("below/new.csv")).expect_err("there is no folder");
    }
}
