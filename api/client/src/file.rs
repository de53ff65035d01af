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

/// Writes a file; where that is not possible any more, as when a spreadsheet has opened it in the
/// meantime, one of a similar name beside it, so that no answer is lost. The file that was
/// written.
pub(crate) fn write_here_or_beside(path: &Path, content: &[u8]) -> Result<PathBuf, FileError> {
    let Err(error) = write(path, content) else { return Ok(path.to_owned()) };
    let is_full = matches!(&error, FileError::Unwritable(_, why)
        if why.kind() == ErrorKind::StorageFull);
    let (Some(stem), Some(ending), false) = (path.file_stem(), path.extension(), is_full) else {
        return Err(error);
    };
    let (stem, ending) = (stem.to_string_lossy(), ending.to_string_lossy());
    for number in 2..10 {
        let beside = path.with_file_name(format!("{stem}-{number}.{ending}"));
        if beside.symlink_metadata().is_err() && write(&beside, content).is_ok() {
            return Ok(beside);
        }
    }
    Err(error)
}

/// Writes a file in the place of one that is there, which stays whole if that fails.
pub(crate) fn replace(path: &Path, content: &[u8]) -> Result<(), FileError> {
    let unwritable = |error| FileError::Unwritable(path.to_owned(), error);
    // A link goes on leading to it.
    let real = path.canonicalize().map_err(unwritable)?;
    let name = real.file_name().unwrap_or_default().to_string_lossy();
    let beside = real.with_file_name(format!(".{name}.new"));
    let written = std::fs::write(&beside, content)
        .and_then(|()| std::fs::set_permissions(&beside, real.metadata()?.permissions()))
        .and_then(|()| std::fs::rename(&beside, &real));
    written.map_err(|error| {
        let _ = std::fs::remove_file(&beside);
        unwritable(error)
    })
}

/// Refuses a file that a spreadsheet has open, which would write it anew later.
pub(crate) fn check_closed(path: &Path) -> Result<(), FileError> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    // What LibreOffice and Excel put beside a file that they have open.
    let locks = [format!(".~lock.{name}#"), format!("~${name}")];
    match locks.iter().find(|lock| path.with_file_name(lock).exists()) {
        None => Ok(()),
        Some(lock) => Err(FileError::Unfit(format!(
            "{} is open in a spreadsheet, as the file {lock} beside it says. Close it there, or \
             name another file.",
            path.display()
        ))),
    }
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
    fn answers_are_written_beside_a_file_that_cannot_be_written_any_more() {
        let folder = tempfile::tempdir().expect("a folder");
        let at = |name: &str| folder.path().join(name);
        std::fs::create_dir(at("o.csv")).expect("a folder in its place");
        std::fs::write(at("o-2.csv"), "mine").expect("a file");
        let written = write_here_or_beside(&at("o.csv"), b"answers").expect("beside it");
        assert_eq!(written, at("o-3.csv"));
        assert_eq!(std::fs::read(at("o-2.csv")).expect("the file"), b"mine");
        write_here_or_beside(&at("below/o.csv"), b"answers").expect_err("there is no folder");
    }

    #[test]
    fn a_file_is_replaced_whole_or_not_at_all() {
        let folder = tempfile::tempdir().expect("a folder");
        let at = |name: &str| folder.path().join(name);
        std::fs::write(at("a.xlsx"), "old").expect("a file");
        replace(&at("a.xlsx"), b"new").expect("it can");
        assert_eq!(std::fs::read(at("a.xlsx")).expect("the file"), b"new");
        std::fs::create_dir(at(".a.xlsx.new")).expect("a folder in its way");
        replace(&at("a.xlsx"), b"newer").expect_err("it cannot be written first");
        assert_eq!(std::fs::read(at("a.xlsx")).expect("the file"), b"new");
    }

    #[test]
    fn a_file_that_a_spreadsheet_has_open_is_left_alone() {
        let folder = tempfile::tempdir().expect("a folder");
        let at = |name: &str| folder.path().join(name);
        check_closed(&at("shop.xlsx")).expect("nobody has it open");
        for lock in [".~lock.shop.xlsx#", "~$shop.xlsx"] {
            std::fs::write(at(lock), "").expect("a file");
            let said = check_closed(&at("shop.xlsx")).expect_err("it is open").to_string();
            assert!(said.contains("is open in a spreadsheet") && said.contains(lock), "{said}");
            std::fs::remove_file(at(lock)).expect("it was there");
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
