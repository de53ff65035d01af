//! The documentation page at `/docs/`: what may be asked, drawn in a browser from the OpenAPI document.
//!
//! # Decisions
//!
//! - **The viewer is a vendored one, built in**; nothing is fetched at build or at run time. What starts it is
//!   our own (`docs/`): it shows the viewer only as much of the document at a time as is looked at, so that
//!   the first line stands there within two seconds.

use crate::http::built_in::{self, BuiltInFile};
use crate::http::door::{Address, at};
use crate::http::respond::reading;
use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse, web};
use std::io::{Cursor, Read};
use std::sync::OnceLock;
use utoipa_swagger_ui_vendored::SWAGGER_UI_VENDORED;
use zip::ZipArchive;

/// What the page may do in a browser: the viewer sets styles in place and brings images
/// along in its own text.
const POLICY: &str = "default-src 'self'; style-src 'self' 'unsafe-inline'; \
                      img-src 'self' data:; form-action 'none'; base-uri 'none'; \
                      frame-ancestors 'none'";

const PAGE: &str = include_str!("../docs/index.html");

const START: &str = include_str!("../docs/start.js");

const STYLE: &str = "text/css; charset=utf-8";

const SCRIPT: &str = "text/javascript; charset=utf-8";

/// Address and type of the viewer's files that the page names, and their place in its archive.
const VIEWER: [(&str, &str, &str); 2] = [
    ("/docs/swagger-ui.css", STYLE, "dist/swagger-ui.css"),
    ("/docs/swagger-ui-bundle.js", SCRIPT, "dist/swagger-ui-bundle.js"),
];

/// The page's files, prepared on the first request for one of them.
#[derive(Default)]
pub struct DocumentationPage {
    files: OnceLock<Vec<BuiltInFile>>,
}

/// Gives the page and its files their addresses.
pub fn configure(config: &mut web::ServiceConfig) {
    config.service(at("/docs", Address::Open).to(to_the_page));
    for address in ["/docs/", "/docs/start.js"].into_iter().chain(VIEWER.map(|file| file.0)) {
        config.service(at(address, Address::Open).to(file));
    }
}

async fn to_the_page(request: HttpRequest) -> HttpResponse {
    let page = (header::LOCATION, "/docs/");
    reading(&request, || HttpResponse::TemporaryRedirect().insert_header(page).finish())
}

async fn file(request: HttpRequest, page: web::Data<DocumentationPage>) -> HttpResponse {
    built_in::answer(&request, page.files.get_or_init(files), POLICY)
}

fn files() -> Vec<BuiltInFile> {
    let own = [("/docs/", "text/html; charset=utf-8", PAGE), ("/docs/start.js", SCRIPT, START)];
    let own = own.map(|(address, kind, text)| BuiltInFile::new(address, kind, text.into()));
    let viewer = VIEWER.iter().filter_map(|(address, media_type, place)| {
        Some(BuiltInFile::new(address, media_type, unpacked(place)?))
    });
    own.into_iter().chain(viewer).collect()
}

/// A file of the viewer's archive, whose top folder is named after its version.
fn unpacked(place: &str) -> Option<Vec<u8>> {
    let mut archive = ZipArchive::new(Cursor::new(SWAGGER_UI_VENDORED)).ok()?;
    let is_meant = |name: &&str| name.split_once('/').is_some_and(|(_, rest)| rest == place);
    let name = archive.file_names().find(is_meant)?.to_owned();
    let mut bytes = Vec::new();
    archive.by_name(&name).ok()?.read_to_end(&mut bytes).ok()?;
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_archive_has_every_file_of_the_viewer() {
        for (address, _, place) in VIEWER {
            assert!(unpacked(place).is_some_and(|bytes| bytes.len() > 100_000), "{address}");
        }
        assert!(unpacked("dist/none.js").is_none());
    }
}
