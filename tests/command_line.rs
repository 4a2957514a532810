//! The built program on its command line, in a folder of its own.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

#[path = "command_line/check.rs"]
mod check;
#[path = "command_line/cut.rs"]
mod cut;
#[path = "command_line/looks.rs"]
mod looks;
#[path = "command_line/lost.rs"]
mod lost;
#[path = "command_line/picture.rs"]
mod picture;
#[path = "command_line/place.rs"]
mod place;
#[path = "command_line/solid.rs"]
mod solid;
#[path = "command_line/surface.rs"]
mod surface;

fn plaitwright(arguments: &[&str]) -> Output {
    plaitwright_at(Path::new("no such folder"), arguments)
}

/// The program with its own folder in this place.
fn plaitwright_at(home: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_plaitwright"))
        .args(arguments)
        .env("PLAITWRIGHT_HOME", home)
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .output()
        .unwrap()
}

fn design(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("resources/designs");
    folder.join(name).to_string_lossy().into_owned()
}

fn written(folder: &Path, name: &str, text: &str) -> String {
    let path = folder.join(name);
    fs::write(&path, text).unwrap();
    path.to_string_lossy().into_owned()
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// The first example with one piece of text changed.
fn changed(folder: &Path, from: &str, to: &str) -> String {
    let text = fs::read_to_string(design("harbour-glass.plait")).unwrap();
    assert!(text.contains(from), "the example no longer holds {from:?}");
    written(folder, "changed.plait", &text.replacen(from, to, 1))
}

#[test]
fn figures_print_one_object_with_every_figure_and_its_spread() {
    let output = plaitwright(&["figures", &design("harbour-glass.plait"), "--json"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let figures: Value = serde_json::from_slice(&output.stdout).unwrap();
    for name in [
        "thickness_on_disc_mm",
        "thickness_rested_mm",
        "pressed_rested_mm",
        "width_rested_mm",
        "off_weight_percent",
        "worked_percent",
        "lengthening_percent",
        "bound_end_mm",
        "pitch_mm",
        "moves_per_cm",
        "mass_g_per_m",
    ] {
        let end = |key: &str| {
            figures[name][key]
                .as_f64()
                .unwrap_or_else(|| panic!("{name}.{key}"))
        };
        let (low, value, high) = (end("low"), end("value"), end("high"));
        assert!(low < value && value < high, "{name}: {low} {value} {high}");
    }
    assert_eq!(figures["name"], "Harbour glass");
    assert_eq!(figures["strands"], 8);
    assert_eq!(figures["take_up"].as_array().unwrap().len(), 8);
    assert!(["S", "Z", "none"].contains(&figures["hand"].as_str().unwrap()));
    assert!(figures["caps"].is_array());
    let solve = &figures["solve"];
    assert_eq!(solve["converged"], true);
    assert_eq!(solve["crossings_kept"], true);
    assert!(solve["shapes"].as_u64().unwrap() >= 1);
    assert!(solve["evaluations"].as_u64().unwrap() > 10);
    assert!(solve["ms"].as_f64().unwrap() > 0.0);
}

#[test]
fn figures_as_text_name_their_units_and_what_is_guessed() {
    let output = plaitwright(&["figures", &design("mooring-ring.plait")]);
    let text = String::from_utf8(output.stdout).unwrap();
    for word in [
        "mm",
        "g/m",
        "per cm",
        " to ",
        "our guess",
        "take-up of strand A",
    ] {
        assert!(text.contains(word), "{word:?} is missing in\n{text}");
    }
}

#[test]
fn a_picture_is_a_png_of_the_size_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("cord.png");
    let file = design("mooring-ring.plait");
    let output = plaitwright(&[
        "picture",
        &file,
        "--out",
        out.to_str().unwrap(),
        "--size",
        "400x90",
    ]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let picture = image::open(&out).unwrap().to_rgb8();
    assert_eq!(picture.dimensions(), (400, 90));
    let middle = picture.get_pixel(200, 44);
    let corner = picture.get_pixel(2, 2);
    assert_ne!(middle, corner, "the middle shows no cord");
}

#[test]
fn the_same_picture_comes_out_byte_for_byte_again() {
    let folder = tempfile::tempdir().unwrap();
    let file = design("mooring-ring.plait");
    let draw = |name: &str| -> Vec<u8> {
        let out: PathBuf = folder.path().join(name);
        plaitwright(&[
            "picture",
            &file,
            "--out",
            out.to_str().unwrap(),
            "--size",
            "300x80",
        ]);
        fs::read(out).unwrap()
    };
    assert_eq!(draw("one.png"), draw("two.png"));
}

#[test]
fn a_file_at_fault_is_refused_in_one_line_with_exit_code_two() {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in [
        ("newer.plait", "// plait 7\n()"),
        ("other.plait", "hello\n"),
        ("broken.plait", "// plait 1\n(id: \"a\", design: ("),
        ("empty.plait", ""),
    ] {
        let output = plaitwright(&["figures", &written(folder.path(), name, text)]);
        assert_eq!(output.status.code(), Some(2), "{name}: {}", said(&output));
        assert_eq!(
            said(&output).lines().count(),
            1,
            "{name}: {}",
            said(&output)
        );
        assert!(said(&output).contains("line"), "{name}: {}", said(&output));
    }
}

#[test]
fn a_file_that_is_not_there_is_said_with_exit_code_one() {
    let output = plaitwright(&["figures", "no-such-cord.plait"]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    assert_eq!(said(&output).lines().count(), 1);
}

#[test]
fn without_a_display_the_window_says_so_in_one_line_and_names_the_commands() {
    let home = tempfile::tempdir().unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_plaitwright"))
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .env("PLAITWRIGHT_HOME", home.path())
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    let text = said(&output);
    assert_eq!(text.lines().count(), 1, "{text}");
    for command in ["check", "figures", "picture"] {
        assert!(text.contains(command), "{text}");
    }
}

#[test]
fn wrong_arguments_are_named_with_the_usage() {
    let output = plaitwright(&["picture", "a.plait"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("--out"), "{}", said(&output));
    assert!(
        said(&output).contains("plaitwright check FILE"),
        "{}",
        said(&output)
    );
}

fn tubes(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/files");
    folder.join(name).to_string_lossy().into_owned()
}

/// 32.742 934: Przybył and Pierański, *J. Phys. A* 47 (2014) 285201.
#[test]
fn a_knot_given_as_a_polygon_is_pulled_tight() {
    let output = plaitwright(&["tighten", &tubes("trefoil.json"), "--json"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    let number = |value: &Value| value.as_f64().unwrap_or_else(|| panic!("{answer}"));
    let short = number(&answer["ropelength"]["nominal"]);
    let long = number(&answer["ropelength"]["least_distance"]);
    let published = 32.742_934;
    assert!(short < published && published < long, "{short} to {long}");
    assert!(short > 0.999 * published && long < 1.001 * published);
    let length = number(&answer["lengths"][0]);
    assert!((length - short).abs() < 1e-6, "the radius is 1");
    let half = 0.5 * number(&answer["min_distance"]);
    assert!((length / half - long).abs() < 1e-6);
    assert!(answer["turn"].is_null() && answer["lift"].is_null());
    assert!(number(&answer["reached"]) <= 1e-3);
    assert!(number(&answer["residual"]) < 1e-3);
    assert!(number(&answer["evaluations"]) > 10.0 && number(&answer["ms"]) > 0.0);
    assert_eq!(answer["crossings_kept"], true);
}

#[test]
fn tubes_that_cannot_be_tightened_are_refused_in_one_line_with_exit_code_two() {
    let folder = tempfile::tempdir().unwrap();
    let ring = |points: &str, radius: &str| {
        format!("{{\"strands\":[{{\"radius\":{radius},\"closed\":true,\"points\":{points}}}]}}")
    };
    let square = "[[0,0,0],[1,0,0],[1,1,0],[0,1,0]]";
    for (text, word) in [
        (String::new(), "EOF"),
        ("{\"strands\":[]}".to_owned(), "no strands"),
        (ring("[]", "1"), "no points"),
        (ring("[[0,0,0],[1,0,0]]", "1"), "too few"),
        (ring(square, "0"), "radius"),
        (ring(square, "-1"), "radius"),
        (ring(square, "\"thick\""), "string"),
        (ring("[[0,0,0],[1,0,NaN],[1,1,0]]", "1"), "line"),
        (ring("[[0,0,0],[1,1,0],[1,0,0],[0,1,0]]", "1"), "meets"),
        (ring(square, "1"), "shrinks"),
        (
            "{\"strands\":[{\"radius\":1,\"points\":[[0,0,0],[0,0,1]]}],\"screw\":{\"next\":[1],\"turn\":0,\"lift\":null}}".to_owned(),
            "next",
        ),
    ] {
        let file = written(folder.path(), "tubes.json", &text);
        let output = plaitwright(&["tighten", &file, "--json"]);
        assert_eq!(output.status.code(), Some(2), "{text}: {}", said(&output));
        assert_eq!(said(&output).lines().count(), 1, "{text}: {}", said(&output));
        assert!(said(&output).contains(word), "{text}: {}", said(&output));
    }
}

#[test]
fn a_swatch_is_met_or_told_to_be_out_of_reach_with_what_to_check() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(design("harbour-glass.plait")).unwrap();
    let second = ", (fibre: \"pearl cotton no. 5\", ends: 2, colour: \"#8fc4b4\")";
    let text = text.replace(second, "");
    let satin = "fibre: \"satin cord 2 mm, polyester\", ends: 1";
    let text = ["5", "7"].iter().fold(text, |text, ends| {
        let pearl = format!("fibre: \"pearl cotton no. 5\", ends: {ends}");
        text.replace(&pearl, satin)
    });
    let file = written(folder.path(), "satin.plait", &text);
    let output = plaitwright(&["figures", &file, "--json"]);
    let figures: Value = serde_json::from_slice(&output.stdout).unwrap();
    let rested = figures["thickness_rested_mm"]["value"].as_f64().unwrap();
    let told = |thickness: f64| {
        let thickness = format!("{thickness}mm");
        let swatch = [
            "swatch",
            &file,
            "--thickness",
            &thickness,
            "--shorter",
            "3.5",
        ];
        let output = plaitwright(&swatch);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
        String::from_utf8_lossy(&output.stdout).into_owned()
    };
    let met = told(rested);
    assert!(
        met.starts_with("met by a packing in the braid of 0.6"),
        "{met}"
    );
    let out = told(0.7 * rested);
    assert!(out.starts_with("out of reach: "), "{out}");
    assert!(out.contains("mm was measured"), "{out}");
    assert!(out.contains("how thick a strand is lying free"), "{out}");
}
