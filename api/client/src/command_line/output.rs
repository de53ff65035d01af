//! What may be written, known before anything is asked.

use crate::file;
use std::error::Error;
use std::path::Path;

/// Refuses a file that must not or cannot be written, before anything is asked. `lost` is what
/// writing over the file that is read would take.
pub(super) fn check(
    read: Option<&Path>,
    output: &Path,
    force: bool,
    lost: &str,
) -> Result<(), Box<dyn Error>> {
    let shown = output.display();
    if read.is_some_and(|read| is_same_file(read, output)) {
        return Err(format!("{shown} is the file that is read{lost}. Name another file.").into());
    }
    if output.exists() && !force {
        return Err(format!(
            "{shown} is there already. Name another file, or say --force to write over it."
        )
        .into());
    }
    file::check_closed(output)?;
    Ok(file::check_writable(output)?)
}

/// Whether two paths lead to one file, by whatever names and links.
fn is_same_file(one: &Path, other: &Path) -> bool {
    match (one.canonicalize(), other.canonicalize()) {
        (Ok(one), Ok(other)) => one == other,
        _ => false,
    }
}
