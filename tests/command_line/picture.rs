//! `plaitwright picture`: as outlines, of the disc, clear, and very large.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use super::{design, plaitwright, said};

fn drawn(folder: &Path, name: &str, options: &[&str]) -> (String, Output) {
    let out = folder.join(name).to_string_lossy().into_owned();
    let file = design("mooring-ring.plait");
    let mut arguments = vec!["picture", &file, "--out", &out];
    arguments.extend(options);
    let output = plaitwright(&arguments);
    (out, output)
}

/// Whether a program of the system is at hand.
fn is_there(program: &str) -> bool {
    Command::new(program).arg("--version").output().is_ok()
}

#[test]
fn cord_and_disc_are_drawn_as_sound_svg_that_another_renderer_shows() {
    for missing in ["xmllint", "rsvg-convert"]
        .iter()
        .filter(|it| !is_there(it))
    {
        println!("Not run beside {missing}, which is not installed.");
    }
    let folder = tempfile::tempdir().unwrap();
    for (name, options, words) in [
        (
            "cord.svg",
            &["--size", "600x200", "--per-mm", "20"][..],
            "width=\"30mm\" height=\"10mm\"",
        ),
        ("disc.svg", &["--of", "disc"], "<title>strand D</title>"),
    ] {
        let (out, output) = drawn(folder.path(), name, options);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
        let text = fs::read_to_string(&out).unwrap();
        assert!(text.contains(words), "{name}");
        if is_there("xmllint") {
            let sound = Command::new("xmllint")
                .args(["--noout", &out])
                .output()
                .unwrap();
            assert!(sound.status.success(), "{}", said(&sound));
        }
        if is_there("rsvg-convert") {
            let png = folder.path().join("shown.png");
            let shown = Command::new("rsvg-convert")
                .args(["--width", "300", &out, "--output"])
                .arg(&png)
                .output()
                .unwrap();
            assert!(shown.status.success(), "{}", said(&shown));
            let picture = image::open(png).unwrap().to_rgba8();
            let inked = picture.pixels().filter(|pixel| pixel.0[3] > 128).count();
            let share = inked as f64 / picture.pixels().count() as f64;
            assert!((0.2..0.95).contains(&share), "{name}: {share}");
        }
    }
}

#[test]
fn a_clear_picture_is_clear_round_the_cord_and_says_its_size_on_paper() {
    let folder = tempfile::tempdir().unwrap();
    let options = ["--size", "300x90", "--per-mm", "12", "--clear"];
    let (out, output) = drawn(folder.path(), "cord.png", &options);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let picture = image::open(&out).unwrap().to_rgba8();
    assert_eq!(picture.get_pixel(2, 2).0[3], 0);
    assert_eq!(picture.get_pixel(150, 45).0[3], 255);
    let bytes = fs::read(&out).unwrap();
    let at = bytes.windows(4).position(|word| word == b"pHYs").unwrap();
    assert_eq!(bytes[at + 4..at + 8], 12_000_u32.to_be_bytes());
    if is_there("pngcheck") {
        let checked = Command::new("pngcheck")
            .args(["-q", &out])
            .output()
            .unwrap();
        assert!(
            checked.status.success() && checked.stdout.is_empty(),
            "{}",
            said(&checked)
        );
    }
}

#[test]
fn a_picture_of_more_than_eight_million_pixels_is_drawn_whole() {
    let folder = tempfile::tempdir().unwrap();
    let options = ["--size", "30000x300", "--per-mm", "20"];
    let (out, output) = drawn(folder.path(), "long.png", &options);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let picture = image::open(&out).unwrap().to_rgb8();
    assert_eq!(picture.dimensions(), (30_000, 300));
    for x in (0..30_000).step_by(500) {
        let (middle, corner) = (picture.get_pixel(x, 144), picture.get_pixel(x, 2));
        assert_ne!(middle, corner, "no cord at {x}");
    }
}

#[test]
fn a_picture_that_cannot_be_is_refused_in_one_line() {
    let folder = tempfile::tempdir().unwrap();
    for (name, options, word) in [
        ("cord.jpg", &[][..], "does not end in .png or .svg"),
        ("disc.png", &["--of", "disc"], "does not end in .svg"),
        ("cord.png", &["--size", "60000x60000"], "at most"),
        (
            "cord.png",
            &["--size", "9000x9000", "--per-mm", "900"],
            "fewer pixels",
        ),
    ] {
        let (_, output) = drawn(folder.path(), name, options);
        assert_eq!(output.status.code(), Some(2), "{name}");
        assert!(said(&output).contains(word), "{}", said(&output));
        assert_eq!(said(&output).lines().count(), 1, "{}", said(&output));
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}
