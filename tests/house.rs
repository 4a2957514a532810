//! The house keeps its arrows: which room may know which, and where the
//! outside world comes in. The list is the one in DEVELOPERS.md.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use std::fs;
use std::path::{Path, PathBuf};

/// Room and the rooms it may know.
const ARROWS: [(&str, &[&str]); 15] = [
    ("quantity", &[]),
    ("structure", &[]),
    ("bench", &["structure"]),
    ("material", &["quantity"]),
    ("topology", &["structure"]),
    ("mechanics", &[]),
    (
        "cord",
        &["structure", "material", "topology", "mechanics", "quantity"],
    ),
    ("surface", &["cord"]),
    (
        "pattern",
        &["surface", "cord", "topology", "structure", "material"],
    ),
    (
        "plan",
        &["bench", "cord", "material", "structure", "quantity"],
    ),
    (
        "document",
        &["plan", "bench", "cord", "material", "structure", "quantity"],
    ),
    (
        "drawing",
        &[
            "document",
            "plan",
            "bench",
            "pattern",
            "surface",
            "cord",
            "topology",
            "material",
            "structure",
            "quantity",
        ],
    ),
    (
        "app",
        &[
            "drawing",
            "document",
            "plan",
            "bench",
            "pattern",
            "surface",
            "cord",
            "topology",
            "material",
            "structure",
            "quantity",
        ],
    ),
    (
        "command_line",
        &[
            "drawing",
            "document",
            "plan",
            "bench",
            "pattern",
            "surface",
            "cord",
            "topology",
            "mechanics",
            "material",
            "structure",
            "quantity",
        ],
    ),
    ("main", &["app", "command_line"]),
];

/// Words of the outside world and the only places where they may stand.
const OUTSIDE: [(&str, &[&str]); 6] = [
    ("egui", &["src/app/"]),
    (
        "std::fs",
        &[
            "src/app/",
            "src/document/disk.rs",
            "src/command_line.rs",
            "src/command_line/",
        ],
    ),
    (
        "Instant::now",
        &["src/app/", "src/command_line.rs", "src/command_line/"],
    ),
    (
        "SystemTime",
        &["src/app/", "src/command_line.rs", "src/command_line/"],
    ),
    ("std::thread", &["src/app/"]),
    (
        "std::env",
        &[
            "src/app/",
            "src/main.rs",
            "src/command_line.rs",
            "src/command_line/",
        ],
    ),
];

fn source_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(source_files(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}

fn src() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

fn shown(file: &Path) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    file.strip_prefix(root)
        .unwrap()
        .to_string_lossy()
        .replace('\\', "/")
}

/// The room a file belongs to: its folder, or its own name at the top.
fn room(file: &Path) -> String {
    let inside = file.strip_prefix(src()).unwrap();
    let first = inside.iter().next().unwrap().to_string_lossy();
    first.trim_end_matches(".rs").to_owned()
}

/// The file without its unit tests, which stand at its foot, and comments.
fn program(file: &Path) -> String {
    let text = fs::read_to_string(file).unwrap();
    let body = text.split("#[cfg(test)]\nmod tests").next().unwrap();
    let is_code = |line: &&str| !line.trim_start().starts_with("//");
    body.lines().filter(is_code).collect::<Vec<_>>().join("\n")
}

fn rooms_named(text: &str, prefix: &str) -> Vec<String> {
    let name = |rest: &str| {
        let end = rest.find(|c: char| !(c.is_ascii_lowercase() || c == '_'));
        rest[..end.unwrap_or(rest.len())].to_owned()
    };
    text.split(prefix)
        .skip(1)
        .map(name)
        .filter(|n| !n.is_empty())
        .collect()
}

#[test]
fn every_arrow_is_on_the_list() {
    let mut wrong = Vec::new();
    for file in source_files(&src()) {
        let room = room(&file);
        if room == "lib" {
            continue;
        }
        let (_, allowed) = ARROWS
            .iter()
            .find(|(name, _)| *name == room)
            .unwrap_or_else(|| panic!("{room} is not on the list of rooms"));
        let text = program(&file);
        let prefix = if room == "main" {
            "plaitwright::"
        } else {
            "crate::"
        };
        for other in rooms_named(&text, prefix) {
            if other != room && !allowed.contains(&other.as_str()) {
                wrong.push(format!("{}: {room} → {other}", shown(&file)));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "arrows that are not on the list:\n{}",
        wrong.join("\n")
    );
}

#[test]
fn the_outside_world_comes_in_only_where_it_may() {
    let mut wrong = Vec::new();
    for file in source_files(&src()) {
        let name = shown(&file);
        let text = program(&file);
        for (word, places) in OUTSIDE {
            if text.contains(word) && !places.iter().any(|p| name.starts_with(p)) {
                wrong.push(format!("{name}: {word}"));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "the outside world where it may not be:\n{}",
        wrong.join("\n")
    );
}

#[test]
fn no_file_is_longer_than_six_hundred_lines() {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let mut files = source_files(&src());
    files.extend(source_files(&tests));
    let length = |file: &PathBuf| fs::read_to_string(file).unwrap().lines().count();
    let long: Vec<_> = files
        .iter()
        .filter(|f| length(f) > 600)
        .map(|f| format!("{}: {}", shown(f), length(f)))
        .collect();
    assert!(long.is_empty(), "too long:\n{}", long.join("\n"));
}

#[test]
fn structures_on_the_shelf_are_moves_only() {
    let shelf = Path::new(env!("CARGO_MANIFEST_DIR")).join("resources/structures.ron");
    let text = fs::read_to_string(shelf).unwrap();
    for word in [
        "diameter",
        "thickness",
        "take_up",
        "lift:",
        "turn:",
        "height",
        "angle",
        "picture",
    ] {
        assert!(
            !text.contains(word),
            "resources/structures.ron holds {word:?}"
        );
    }
}
