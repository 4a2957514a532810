//! All knots of up to eight crossings, each given as a crude closed braid.
//!
//! They rest in more than one shape: the shortest must be found.

use super::knots::{closed_braid, ropelengths};

/// Knot, word of a braid that closes to it, and length over radius.
///
/// "Knot Info" (Livingston and Moore), fields `braid_notation` and `ropelength`; lengths
/// after Ashton, Cantarella, Piatek and Rawdon, *Experimental Mathematics* 20 (2011) 57,
/// upper bounds.
const TABLE: [(&str, &[i32], f64); 35] = [
    ("3_1", &[1, 1, 1], 32.7436),
    ("4_1", &[1, -2, 1, -2], 42.0887),
    ("5_1", &[1, 1, 1, 1, 1], 47.2016),
    ("5_2", &[1, 1, 1, 2, -1, 2], 49.4701),
    ("6_1", &[1, 1, 2, -1, -3, 2, -3], 56.7058),
    ("6_2", &[1, 1, 1, -2, 1, -2], 57.0235),
    ("6_3", &[1, 1, -2, 1, -2, -2], 57.8392),
    ("7_1", &[1, 1, 1, 1, 1, 1, 1], 61.4067),
    ("7_2", &[1, 1, 1, 2, -1, 2, 3, -2, 3], 63.8556),
    ("7_3", &[1, 1, 1, 1, 1, 2, -1, 2], 63.9285),
    ("7_4", &[1, 1, 2, -1, 2, 2, 3, -2, 3], 64.2687),
    ("7_5", &[1, 1, 1, 1, 2, -1, 2, 2], 65.256),
    ("7_6", &[1, 1, -2, 1, 3, -2, 3], 65.6924),
    ("7_7", &[-1, 2, -1, 2, -3, 2, -3], 65.6069),
    ("8_1", &[1, 1, 2, -1, 2, 3, -2, -4, 3, -4], 70.9669),
    ("8_2", &[1, 1, 1, 1, 1, -2, 1, -2], 71.3985),
    ("8_3", &[1, 1, 2, -1, -3, 2, -3, -4, 3, -4], 71.1575),
    ("8_4", &[-1, -1, -1, 2, -1, 2, 3, -2, 3], 71.4704),
    ("8_5", &[1, 1, 1, -2, 1, 1, 1, -2], 72.1344),
    ("8_6", &[1, 1, 1, 1, 2, -1, -3, 2, -3], 72.4725),
    ("8_7", &[-1, -1, -1, -1, 2, -1, 2, 2], 72.2137),
    ("8_8", &[-1, -1, -1, -2, 1, 3, -2, 3, 3], 72.7241),
    ("8_9", &[1, 1, 1, -2, 1, -2, -2, -2], 72.4399),
    ("8_10", &[-1, -1, -1, 2, -1, -1, 2, 2], 72.9379),
    ("8_11", &[1, 1, 2, -1, 2, 2, -3, 2, -3], 72.8966),
    ("8_12", &[1, -2, 1, 3, -2, -4, 3, -4], 73.9518),
    ("8_13", &[1, 1, -2, 1, -2, -2, -3, 2, -3], 72.8),
    ("8_14", &[1, 1, 1, 2, -1, 2, -3, 2, -3], 73.7612),
    ("8_15", &[1, 1, -2, 1, 3, 2, 2, 2, 3], 73.6643),
    ("8_16", &[-1, -1, 2, -1, -1, 2, -1, 2], 73.5054),
    ("8_17", &[1, 1, -2, 1, -2, 1, -2, -2], 74.4912),
    ("8_18", &[1, -2, 1, -2, 1, -2, 1, -2], 74.9063),
    ("8_19", &[1, 1, 1, 2, 1, 1, 1, 2], 60.9858),
    ("8_20", &[1, 1, 1, -2, -1, -1, -1, -2], 63.0929),
    ("8_21", &[1, 1, 1, 2, -1, -1, 2, 2], 65.5248),
];

/// Two that a single solve leaves 1.6 and 1.8 % too long, and one that Alexander's
/// polynomial does not tell from two trefoils.
const FEW: [&str; 3] = ["6_1", "8_16", "8_20"];

/// Share by which a knot may be longer than the shortest known.
const LONGER: f64 = 5e-3;

/// Share by which it may be shorter. Less would be another knot: the table gives what
/// was found, and `7_6` and `8_12` come out shorter by 0.1 and 0.2 % (tried).
const SHORTER: f64 = 4e-3;

/// Knots that may stay in a longer rest: `8_6` does, 1.3 % too long, from this braid
/// and not from one drawn otherwise (tried). Which, is chance.
const MISSED: usize = 1;

/// `PLAIT_KNOTS=all` tightens the whole table.
#[test]
fn knots_are_pulled_to_the_shortest_of_their_rests() {
    let all = std::env::var_os("PLAIT_KNOTS").is_some();
    let mut missed = Vec::new();
    for (name, word, published) in TABLE {
        if !(all || FEW.contains(&name)) {
            continue;
        }
        let places = word.iter().map(|letter| letter.unsigned_abs() as usize);
        let braid = closed_braid(1 + places.max().unwrap_or(0), word);
        let [_, _, limit] = ropelengths(braid);
        let miss = limit / published - 1.0;
        println!(
            "{name}: {limit:.4}, published {published:.4}, {:+.2} %",
            100.0 * miss
        );
        if !(-SHORTER < miss && miss < LONGER) {
            missed.push((name, limit, published));
        }
    }
    let allowed = if all { MISSED } else { 0 };
    assert!(missed.len() <= allowed, "{missed:?}");
}
