//! Allowed dependencies, read from the source: layers in the engine, and no rings of files.

pub(super) mod modules;

use super::tidy::root;
use modules::{Arrows, Module, arrows};
use std::collections::{BTreeMap, BTreeSet};

/// The modules of the engine from the lowest layer up. A file may use the layers below its
/// own; modules of one layer may use each other.
const FLOORS: [&[&str]; 9] = [
    &["numerics"],
    &["handbook"],
    &["quantity", "document", "text"],
    &["picture", "fluid", "job_sheet", "dated"],
    &["dynamics"],
    &["calculation"],
    &["uncertainty"],
    &["calculations"],
    &["catalogue"],
];

fn floor_of(room: &str) -> usize {
    let floor = FLOORS.iter().position(|rooms| rooms.contains(&room));
    floor.unwrap_or_else(|| panic!("the engine's {room} is in no layer: add it to one"))
}

fn named(module: &[String]) -> String {
    if module.is_empty() { "the crate itself".to_owned() } else { module.join("::") }
}

/// The dependencies between the files of the engine.
pub(super) fn engine() -> Arrows {
    arrows(&root().join("engine/src"))
}

#[test]
fn arrows_in_the_engine_point_down() {
    let mut used = 0;
    for (from, targets) in engine() {
        let Some(room) = from.first() else { continue };
        let floor = floor_of(room);
        for target in targets {
            let Some(other) = target.first().filter(|other| *other != room) else { continue };
            used += 1;
            let goes_up = floor_of(other) > floor;
            assert!(!goes_up, "{} uses {}, which stands above it", named(&from), named(&target));
        }
    }
    assert!(used > 300, "only {used} arrows were read");
}

/// Code that two families need is in a layer below both.
#[test]
fn families_of_calculations_do_not_use_each_other() {
    let mut families = BTreeSet::new();
    for (from, targets) in engine() {
        let [calculations, family, ..] = from.as_slice() else { continue };
        if calculations != "calculations" {
            continue;
        }
        families.insert(family.clone());
        for target in targets {
            if let [calculations, other, ..] = target.as_slice()
                && calculations == "calculations"
            {
                assert_eq!(family, other, "{} uses {}", named(&from), named(&target));
            }
        }
    }
    assert_eq!(families.into_iter().collect::<Vec<_>>(), ["recycling", "shop", "sump"]);
}

/// The catalogue alone knows the calculations.
#[test]
fn nothing_but_the_catalogue_knows_the_calculations() {
    for (from, targets) in engine() {
        let may = from.first().is_some_and(|room| room == "catalogue" || room == "calculations");
        for target in targets.iter().filter(|target| !target.is_empty()) {
            let knows = target[0] == "calculations" || target[0] == "catalogue";
            assert!(may || !knows, "{} uses {}", named(&from), named(target));
        }
    }
}

/// The modules that a module uses directly or indirectly.
fn reached(arrows: &Arrows, from: &Module) -> BTreeSet<Module> {
    let mut found = BTreeSet::new();
    let mut next = vec![from.clone()];
    while let Some(module) = next.pop() {
        for target in arrows.get(&module).into_iter().flatten() {
            if found.insert(target.clone()) {
                next.push(target.clone());
            }
        }
    }
    found
}

/// Files that use each other in a ring, which cannot be read one after the other. A
/// folder and what lies in it are one: its `mod.rs` may use them and they what it defines.
fn rings(folder: &str) -> Vec<String> {
    let mut arrows = arrows(&root().join(folder));
    for (from, targets) in &mut arrows {
        targets.retain(|target| !target.starts_with(from) && !from.starts_with(target));
    }
    let reached: BTreeMap<&Module, BTreeSet<Module>> =
        arrows.keys().map(|module| (module, reached(&arrows, module))).collect();
    let ring_of = |module: &Module| -> BTreeSet<&Module> {
        let ring = reached[module].iter().filter(|other| reached[*other].contains(module));
        ring.collect()
    };
    let rings: BTreeSet<BTreeSet<&Module>> = arrows.keys().map(ring_of).collect();
    let told = |ring: BTreeSet<&Module>| {
        let named: Vec<String> = ring.into_iter().map(|module| named(module)).collect();
        format!("{folder}: {}", named.join(", "))
    };
    rings.into_iter().filter(|ring| !ring.is_empty()).map(told).collect()
}

#[test]
fn no_ring_of_files() {
    let found = ["engine", "openapi", "api/render", "api/server", "api/client", "api/browser"]
        .map(|folder| rings(&format!("{folder}/src")));
    assert!(found.concat().is_empty(), "files in a ring: {:#?}", found.concat());
}
