//! `plaitwright solid`, and its files beside what other programs make of them.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

use super::{design, plaitwright, said};

fn made(name: &str, options: &[&str]) -> (tempfile::TempDir, String, std::process::Output) {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join(name).to_string_lossy().into_owned();
    let file = design("mooring-ring.plait");
    let mut arguments = vec!["solid", &file, "--out", &out];
    arguments.extend(options);
    let output = plaitwright(&arguments);
    (folder, out, output)
}

#[test]
fn a_solid_is_written_as_what_its_name_says() {
    for (name, head) in [
        ("ring.glb", &b"glTF"[..]),
        ("ring.OBJ", b"# millimetres"),
        ("ring.stl", b"plaitwright"),
    ] {
        let (folder, out, output) = made(name, &["--length", "12mm"]);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
        assert!(fs::read(&out).unwrap().starts_with(head), "{name}");
        let told = String::from_utf8(output.stdout).unwrap();
        assert!(told.contains("12.00 mm of cord"), "{told}");
        let files = fs::read_dir(folder.path()).unwrap().count();
        assert_eq!(files, if name == "ring.OBJ" { 2 } else { 1 }, "{name}");
    }
}

#[test]
fn materials_stand_beside_the_solid_that_names_them() {
    let (folder, out, output) = made("ring.obj", &["--repeats", "1"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(
        fs::read_to_string(out)
            .unwrap()
            .contains("mtllib ring.mtl\n")
    );
    let beside = fs::read_to_string(folder.path().join("ring.mtl")).unwrap();
    assert!(beside.starts_with("newmtl 1_A_"), "{beside}");
}

#[test]
fn a_solid_that_cannot_be_is_refused_in_a_sentence_and_nothing_is_written() {
    for (name, options, word) in [
        ("ring.step", &["--length", "5"][..], "does not end in .glb"),
        ("ring.glb", &["--length", "0"], "length over nothing"),
        ("ring.stl", &["--length", "40m"], "ask for"),
        ("no/ring.stl", &["--length", "5"], "no such file or folder"),
    ] {
        let (folder, _, output) = made(name, options);
        assert_ne!(output.status.code(), Some(0), "{name}");
        assert!(said(&output).contains(word), "{}", said(&output));
        assert_eq!(said(&output).lines().count(), 1, "{}", said(&output));
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    }
}

/// Straight through the solid of a glTF in metres and of the others in millimetres.
#[test]
fn trimesh_finds_every_strand_closed_and_one_volume_in_all_three_files() {
    let python = peer("bin/python");
    let has_it = Command::new(&python)
        .args(["-c", "import trimesh, scipy"])
        .status();
    if !has_it.is_ok_and(|status| status.success()) {
        println!(
            "Not run: needs `python3 -m venv target/peer && target/peer/bin/pip install trimesh scipy`."
        );
        return;
    }
    let mut volumes = Vec::new();
    for (name, unit) in [("ring.glb", 1e9), ("ring.obj", 1.0), ("ring.stl", 1.0)] {
        let (_folder, out, _) = made(name, &["--length", "25"]);
        let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/command_line/closed.py");
        let answer = Command::new(&python).arg(script).arg(out).output().unwrap();
        let found: Value =
            serde_json::from_slice(&answer.stdout).unwrap_or_else(|_| panic!("{}", said(&answer)));
        assert_eq!(found["bodies"], 4, "{name}: {found}");
        assert_eq!(found["closed"], true, "{name}: {found}");
        assert_eq!(found["one_way"], true, "{name}: {found}");
        volumes.push(found["volume"].as_f64().unwrap() * unit);
    }
    println!("{volumes:?} mm3");
    for volume in &volumes {
        assert!(
            *volume > 0.0 && (volume / volumes[0] - 1.0).abs() < 1e-4,
            "{volumes:?}"
        );
    }
}

#[test]
fn the_validator_of_the_standard_has_nothing_to_say_of_a_gltf() {
    let package = peer("node_modules/gltf-validator");
    if !package.is_dir() {
        println!("Not run: needs `npm install --prefix target/peer gltf-validator`.");
        return;
    }
    let (_folder, out, _) = made("ring.glb", &["--repeats", "2"]);
    let script = "require(process.argv[1]).validateBytes(new Uint8Array(
        require('fs').readFileSync(process.argv[2]))).then(r => console.log(JSON.stringify(r.issues)))";
    let answer = Command::new("node")
        .args(["-e", script])
        .args([package, PathBuf::from(out)])
        .output()
        .unwrap();
    let issues: Value =
        serde_json::from_slice(&answer.stdout).unwrap_or_else(|_| panic!("{}", said(&answer)));
    for kind in ["numErrors", "numWarnings", "numInfos", "numHints"] {
        assert_eq!(issues[kind], 0, "{issues}");
    }
}

/// A place among the programs that tests are run beside.
fn peer(inside: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("target/peer")
        .join(inside)
}
