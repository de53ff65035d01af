//! The modules of a crate and their dependencies, read from its source.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// A module by its path within the crate; empty for the crate itself.
pub(in crate::house) type Module = Vec<String>;

/// The dependencies between files, by module. A folder's `mod.rs` is the folder.
pub(in crate::house) type Arrows = BTreeMap<Module, BTreeSet<Module>>;

/// The dependencies in a crate whose source is in `folder`. A `pub use` of a folder counts
/// as a use of the file that defines the name.
pub(in crate::house) fn arrows(folder: &Path) -> Arrows {
    let texts = texts(folder);
    let passed_on: BTreeMap<Vec<String>, Module> = texts
        .iter()
        .flat_map(|(module, text)| {
            uses(text, "pub use ").into_iter().filter_map(|path| {
                let mut item = module.clone();
                item.push(path.last()?.clone());
                let (from, _) = resolved(module, &path, &texts, &BTreeMap::new());
                (from != *module).then_some((item, from))
            })
        })
        .collect();
    let target = |module: &Module, path: &[String]| {
        let (found, _) = resolved(module, path, &texts, &passed_on);
        found
    };
    texts
        .iter()
        .map(|(module, text)| {
            let mut paths = uses(text, "use ");
            paths.extend(in_passing(text));
            let used = paths.iter().map(|path| target(module, path));
            (module.clone(), used.filter(|used| used != module).collect())
        })
        .collect()
}

/// The code of every file below `folder`, by its module.
pub(in crate::house) fn texts(folder: &Path) -> BTreeMap<Module, String> {
    let mut texts = BTreeMap::new();
    read(folder, &Vec::new(), &mut texts);
    assert!(texts.len() > 1, "no source in {}", folder.display());
    texts
}

/// Every file below `folder`, without its comments and tests.
fn read(folder: &Path, at: &Module, texts: &mut BTreeMap<Module, String>) {
    for entry in std::fs::read_dir(folder).expect("a folder of source") {
        let path = entry.expect("an entry").path();
        let name = path.file_stem().and_then(|stem| stem.to_str()).expect("a name");
        let mut module = at.clone();
        if path.is_dir() {
            module.push(name.to_owned());
            read(&path, &module, texts);
        } else if path.extension().is_some_and(|kind| kind == "rs") {
            if !["mod", "lib", "main"].contains(&name) {
                module.push(name.to_owned());
            }
            let text = std::fs::read_to_string(&path).expect("readable source");
            texts.insert(module, without_comments_and_tests(&text));
        }
    }
}

fn without_comments_and_tests(text: &str) -> String {
    let product = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
    let lines = product.lines().map(|line| match line.find("//") {
        // An address in a text is not a comment.
        Some(at) if !line[..at].ends_with(':') => &line[..at],
        _ => line,
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// The paths that the `use` declarations name which begin with `keyword`.
fn uses(text: &str, keyword: &str) -> Vec<Vec<String>> {
    let mut found = Vec::new();
    for statement in text.split(';') {
        let Some(at) = statement.rfind(keyword) else { continue };
        let path = statement[at + keyword.len()..].split_whitespace().collect::<Vec<_>>();
        spread(&path.join(" "), &mut Vec::new(), &mut found);
    }
    // Names of other crates are not resolved.
    found
}

/// Expands a tree of names: `a::{b, c::{d, self}}` is a::b, a::c::d and a::c.
fn spread(tree: &str, before: &mut Vec<String>, found: &mut Vec<Vec<String>>) {
    let tree = tree.split(" as ").next().unwrap_or_default().trim();
    let (path, group) = match tree.split_once('{') {
        Some((path, group)) => (path, group.strip_suffix('}')),
        None => (tree, None),
    };
    let depth = before.len();
    before.extend(path.split("::").map(str::trim).filter(|n| !n.is_empty()).map(str::to_owned));
    match group {
        None => found.push(before.clone()),
        Some(group) => {
            let mut open = 0;
            let parts = group.split(|c: char| {
                open += i32::from(c == '{') - i32::from(c == '}');
                c == ',' && open == 0
            });
            parts.filter(|part| !part.trim().is_empty()).for_each(|p| spread(p, before, found));
        }
    }
    before.truncate(depth);
}

/// Paths written in full where they are used: `crate::a::b()`.
fn in_passing(text: &str) -> Vec<Vec<String>> {
    let is_path = |c: char| c.is_alphanumeric() || c == '_' || c == ':';
    let words = text.split(|c: char| !is_path(c));
    let words = words.filter(|word| word.starts_with("crate::") || word.starts_with("super::"));
    words.map(|word| word.split("::").map(str::to_owned).collect()).collect()
}

/// The module in which a path ends, and how many of its names come after it.
fn resolved(
    from: &Module,
    path: &[String],
    texts: &BTreeMap<Module, String>,
    passed_on: &BTreeMap<Vec<String>, Module>,
) -> (Module, usize) {
    let mut at = from.clone();
    let mut left = path;
    while let [name, rest @ ..] = left {
        match name.as_str() {
            "crate" => at.clear(),
            "super" => drop(at.pop()),
            "self" => {}
            _ => break,
        }
        left = rest;
    }
    while let [name, rest @ ..] = left {
        at.push(name.clone());
        if let Some(owner) = passed_on.get(&at) {
            at.clone_from(owner);
            return (at, rest.len());
        }
        if !texts.contains_key(&at) {
            at.pop();
            break;
        }
        left = rest;
    }
    // A path outside the crate leads nowhere.
    (if texts.contains_key(&at) { at } else { from.clone() }, left.len())
}
