//! The engine for browsers: a file beside the program, which the page takes where no service answers.

use crate::configuration::Configuration;
use crate::http::built_in::BuiltInFile;
use crate::http::kept::tag_of;
use actix_web::web;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// Its address.
pub(super) const ADDRESS: &str = "/page/engine.wasm";

const MEDIA_TYPE: &str = "application/wasm";

/// How every such file begins.
const MAGIC: &[u8] = b"\0asm";

/// Where it lies when no setting says it, as seen from the program's folder: beside it in an
/// archive, in the folder for what belongs to no one machine where a package puts it.
const PLACES: [&str; 2] = ["engine.wasm", "../share/sumpwright/engine.wasm"];

/// The engine, read when the service starts, and packed on the first request.
pub(crate) struct Engine {
    plain: web::Bytes,
    tag: String,
    packed: OnceLock<BuiltInFile>,
}

impl Engine {
    /// The engine of a configuration, if there is one; an error is a sentence for the operator.
    pub(crate) fn of(configuration: &Configuration) -> Result<Option<Self>, String> {
        let file = configuration.page_engine.clone().or_else(beside_the_program);
        file.as_deref().map(Self::read).transpose()
    }

    fn read(file: &Path) -> Result<Self, String> {
        let plain = std::fs::read(file).map_err(|error| {
            format!("the engine for browsers, {}, cannot be read: {error}", file.display())
        })?;
        if !plain.starts_with(MAGIC) {
            return Err(format!(
                "page_engine is {}, which is no WebAssembly. tests/tools/browser/build makes it.",
                file.display()
            ));
        }
        let tag = tag_of([plain.as_slice()]);
        Ok(Self { plain: plain.into(), tag, packed: OnceLock::new() })
    }

    /// Changes whenever the file changes.
    pub(super) fn tag(&self) -> &str {
        &self.tag
    }

    /// The file ready to send. To pack it the first time takes a second or two.
    pub(super) fn packed(&self) -> &BuiltInFile {
        self.packed.get_or_init(|| {
            BuiltInFile::tagged(ADDRESS, MEDIA_TYPE, self.plain.clone(), self.tag.clone())
        })
    }
}

fn beside_the_program() -> Option<PathBuf> {
    // Where the system does not say what runs, the command does.
    let started = || std::env::args_os().next().map(PathBuf::from);
    let program = std::env::current_exe().ok().or_else(started)?;
    let folder = program.parent()?;
    PLACES.map(|place| folder.join(place)).into_iter().find(|file| file.is_file())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_is_no_engine_is_refused_before_anybody_asks_for_it() {
        let folder = tempfile::tempdir().expect("room");
        let file = folder.path().join("engine.wasm");
        let of = |file: &Path| {
            let page_engine = Some(file.to_owned());
            Engine::of(&Configuration { page_engine, ..Configuration::default() })
        };
        assert!(of(&file).err().expect("it is missing").contains("cannot be read"));
        std::fs::write(&file, "<html>").expect("room");
        assert!(of(&file).err().expect("it is a page").contains("no WebAssembly"));
        std::fs::write(&file, b"\0asm\x01\0\0\0").expect("room");
        let tag = of(&file).expect("it is one").expect("it is there").tag().to_owned();
        std::fs::write(&file, b"\0asm\x01\0\0\0\0").expect("room");
        assert_ne!(of(&file).expect("it is one").expect("it is there").tag(), tag);
    }
}
