//! `plaitwright surface`, and its file beside what other programs make of it.

use std::fs;
use std::process::Command;

use super::{design, plaitwright, said};

#[test]
fn a_surface_is_written_as_an_svg_with_every_strand_and_its_measures() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder
        .path()
        .join("ring.svg")
        .to_string_lossy()
        .into_owned();
    let output = plaitwright(&["surface", &design("mooring-ring.plait"), "--out", &out]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let told = String::from_utf8(output.stdout).unwrap();
    assert!(told.contains("floats in a repeat of"), "{told}");
    let text = fs::read_to_string(&out).unwrap();
    for word in [
        "<title>",
        "<desc>",
        "id=\"strand-A\"",
        "id=\"edges\"",
        "repeat ",
        "5 : 1",
    ] {
        assert!(text.contains(word), "{word}");
    }
    for (reader, arguments) in [
        ("xmllint", vec!["--noout", &out]),
        ("rsvg-convert", vec![out.as_str()]),
    ] {
        // Only where the reader is at hand.
        if let Ok(read) = Command::new(reader).args(&arguments).output() {
            assert!(read.status.success(), "{reader}: {}", said(&read));
            assert!(said(&read).is_empty(), "{reader}: {}", said(&read));
        }
    }
}

#[test]
fn a_surface_that_cannot_be_written_is_refused_in_a_sentence() {
    let file = design("mooring-ring.plait");
    for (arguments, word) in [
        (vec!["surface", &file], "needs --out"),
        (
            vec!["surface", &file, "--out", "ring.png"],
            "does not end in .svg",
        ),
        (
            vec!["surface", &file, "--out", "ring.svg", "--json"],
            "--json has no place",
        ),
    ] {
        let output = plaitwright(&arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(said(&output).contains(word), "{}", said(&output));
    }
}
