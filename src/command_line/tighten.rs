//! Any knot, link or rope, given as polygons in a JSON file, pulled tight.
//!
//! Closed strands are rings:
//!
//! ```json
//! {"strands": [
//!   {"radius": 1.0, "closed": true, "points": [[2, 0, 0], [-1, 1.7, 0], [-1, -1.7, 0]]},
//!   {"radius": 1.0, "closed": true, "points": [[0, 0, 2], [0, 0, -2], [9, 0, 0]]}
//! ]}
//! ```
//!
//! Open strands repeat along z for ever. Strand `i` runs on in strand `next[i]`, turned
//! about z and lifted: its last point may be that beginning, or the one before it.
//! `null` for turn or lift: found by the solve. `weight` pulls along z, in pulls of one
//! strand.
//!
//! ```json
//! {"strands": [
//!   {"radius": 0.5, "closed": false, "points": [[0.6, 0, 0], [0.52, 0.3, 0.3]]},
//!   {"radius": 0.5, "closed": false, "points": [[-0.6, 0, 0], [-0.52, -0.3, 0.3]]}
//! ], "screw": {"next": [0, 1], "turn": 0.5235987756, "lift": null}, "weight": 0}
//! ```
//!
//! Points and radii are in one length of the maker's own, and so is the answer. All
//! strands pull alike and are hard.

use std::path::Path;
use std::time::Instant;

use serde::{Deserialize, Serialize};

use super::Failure;
use super::arguments::Tolerance;
use crate::mechanics::{
    Accurate, Figure, Hold, Joined, Polygons, Progress, Untight, tighten_polygons,
};

/// Largest file, bytes.
const MOST_BYTES: u64 = 20_000_000;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    strands: Vec<Strand>,
    #[serde(default)]
    screw: Option<Screw>,
    #[serde(default)]
    weight: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Strand {
    radius: f64,
    closed: Option<bool>,
    points: Vec<[f64; 3]>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Screw {
    next: Vec<usize>,
    turn: Option<f64>,
    lift: Option<f64>,
}

/// The answer as text or as one JSON object.
pub(super) fn run(file: &Path, tolerance: Tolerance, json: bool) -> Result<String, Failure> {
    let begun = Instant::now();
    let polygons = read(file)?;
    let thickest = polygons.radius.iter().fold(0.0_f64, |most, &r| most.max(r));
    let radius = polygons.radius.clone();
    let found = tighten_polygons(polygons, tolerance.0, &Progress::new())
        .map_err(|error| failure(file, &error))?;
    let ms = begun.elapsed().as_secs_f64() * 1e3;
    let answer = Answer::of(&found, &radius, 2.0 * thickest, tolerance, ms);
    if !json {
        return Ok(answer.text());
    }
    serde_json::to_string_pretty(&answer)
        .map_err(|error| Failure::Other(format!("the figures could not be written: {error}")))
}

fn failure(file: &Path, error: &Untight) -> Failure {
    Failure::Input(format!("{}: {error}", file.display()))
}

fn read(file: &Path) -> Result<Polygons, Failure> {
    let unreadable = |error| Failure::Other(format!("{}: {error}", file.display()));
    if std::fs::metadata(file).map_err(unreadable)?.len() > MOST_BYTES {
        return Err(Failure::Input(format!(
            "{}: the file is too large",
            file.display()
        )));
    }
    let bytes = std::fs::read(file).map_err(unreadable)?;
    let read: File = serde_json::from_slice(&bytes)
        .map_err(|error| Failure::Input(format!("{}: {error}", file.display())))?;
    polygons(read).map_err(|what| Failure::Input(format!("{}: {what}", file.display())))
}

fn polygons(file: File) -> Result<Polygons, String> {
    let closed = file.screw.is_none();
    for (number, strand) in file.strands.iter().enumerate() {
        if strand.closed.unwrap_or(closed) != closed {
            let what = if closed {
                "is open, but there is no \"screw\""
            } else {
                "is closed, but there is a \"screw\""
            };
            return Err(format!("strand {} {what}", number + 1));
        }
        if strand.points.is_empty() {
            return Err(format!("strand {} has no points", number + 1));
        }
    }
    let radius = file.strands.iter().map(|s| s.radius).collect();
    let mut points: Vec<_> = file.strands.into_iter().map(|s| s.points).collect();
    let joined = match file.screw {
        None => Joined::Rings,
        Some(screw) => joined(screw, &mut points)?,
    };
    Ok(Polygons {
        points,
        radius,
        joined,
        weight: file.weight,
    })
}

/// Turn and lift, and the last points made the beginnings of what comes next.
fn joined(screw: Screw, points: &mut [Vec<[f64; 3]>]) -> Result<Joined, String> {
    let sound = screw.next.len() == points.len() && screw.next.iter().all(|&n| n < points.len());
    if !sound {
        return Err("\"next\" does not name every strand once, counted from 0".to_owned());
    }
    let finite = points.iter().flatten().flatten().all(|x| x.is_finite());
    let given = [screw.turn, screw.lift]
        .into_iter()
        .flatten()
        .all(f64::is_finite);
    if !(finite && given) {
        return Err("a number is too large".to_owned());
    }
    let starts: Vec<_> = screw.next.iter().map(|&next| points[next][0]).collect();
    let seam = Seam::of(&screw, points, &starts);
    for (row, start) in points.iter_mut().zip(&starts) {
        if seam.is_given {
            row.pop();
        }
        let (sin, cos) = seam.turn.sin_cos();
        let [x, y, z] = *start;
        row.push([cos * x - sin * y, sin * x + cos * y, z + seam.lift]);
    }
    let hold = |given: Option<f64>| {
        if given.is_some() {
            Hold::Held
        } else {
            Hold::Free
        }
    };
    Ok(Joined::Screw {
        turn_hold: hold(screw.turn),
        lift_hold: hold(screw.lift),
        next: screw.next,
        lift: seam.lift,
        turn: seam.turn,
    })
}

/// How a cell joins the next.
struct Seam {
    lift: f64,
    turn: f64,
    /// Whether the last points already are the beginnings of what comes next.
    is_given: bool,
}

impl Seam {
    fn of(screw: &Screw, points: &[Vec<[f64; 3]>], starts: &[[f64; 3]]) -> Self {
        let lasts: Vec<[f64; 3]> = points.iter().map(|row| row[row.len() - 1]).collect();
        let met = Self::between(screw, &lasts, starts);
        if met.misses(&lasts, starts) < 1e-3 {
            return Self {
                is_given: true,
                ..met
            };
        }
        // One step more, as long as the last.
        let on = |row: &Vec<[f64; 3]>| {
            let (last, before) = (row[row.len() - 1], row[row.len().max(2) - 2]);
            std::array::from_fn(|k| 2.0 * last[k] - before[k])
        };
        let onward: Vec<[f64; 3]> = points.iter().map(on).collect();
        Self::between(screw, &onward, starts)
    }

    /// From `starts` to `ends`, as near as may be, but as `screw` says.
    fn between(screw: &Screw, ends: &[[f64; 3]], starts: &[[f64; 3]]) -> Self {
        let both = || ends.iter().zip(starts);
        let rise = both().map(|(e, s)| e[2] - s[2]).sum::<f64>() / ends.len() as f64;
        let along: f64 = both().map(|(e, s)| e[0] * s[0] + e[1] * s[1]).sum();
        let across: f64 = both().map(|(e, s)| e[1] * s[0] - e[0] * s[1]).sum();
        Self {
            lift: screw.lift.unwrap_or(rise),
            turn: screw.turn.unwrap_or_else(|| across.atan2(along)),
            is_given: false,
        }
    }

    /// How far `ends` lie from where `starts` come, over the rise.
    fn misses(&self, ends: &[[f64; 3]], starts: &[[f64; 3]]) -> f64 {
        let (sin, cos) = self.turn.sin_cos();
        let miss = |(e, s): (&[f64; 3], &[f64; 3])| {
            let x = cos * s[0] - sin * s[1] - e[0];
            let y = sin * s[0] + cos * s[1] - e[1];
            x.hypot(y).hypot(s[2] + self.lift - e[2])
        };
        let worst = ends.iter().zip(starts).map(miss).fold(0.0, f64::max);
        worst / self.lift.abs().max(f64::MIN_POSITIVE)
    }
}

/// A figure in the limit of hard strands and many nodes.
#[derive(Debug, Serialize)]
struct Limit {
    value: f64,
    error: f64,
}

/// Sum of lengths over radius.
#[derive(Debug, Serialize)]
struct Ropelength {
    /// By the radius given: too short, since the tubes overlap a little.
    nominal: f64,
    /// By half the least distance: too long.
    least_distance: f64,
    limit: Limit,
}

/// The same in the limit.
#[derive(Debug, Serialize)]
struct Limits {
    lengths: Vec<Limit>,
    turn: Option<Limit>,
    lift: Option<Limit>,
}

#[derive(Debug, Serialize)]
struct Answer {
    lengths: Vec<f64>,
    min_distance: Option<f64>,
    ropelength: Ropelength,
    turn: Option<f64>,
    lift: Option<f64>,
    limit: Limits,
    tolerance: f64,
    reached: f64,
    residual: f64,
    nodes: usize,
    evaluations: usize,
    ms: f64,
    crossings_kept: bool,
}

/// To nine digits.
fn rounded(x: f64) -> f64 {
    format!("{x:.8e}").parse().unwrap_or(x)
}

impl Limit {
    fn of(figure: Figure, unit: f64) -> Self {
        Self {
            value: rounded(figure.value * unit),
            error: rounded(figure.error * unit),
        }
    }
}

impl Answer {
    fn of(found: &Accurate, radius: &[f64], unit: f64, tolerance: Tolerance, ms: f64) -> Self {
        let screw = found.shape.lift > 0.0;
        Self {
            lengths: found.laid.iter().map(|l| rounded(l * unit)).collect(),
            min_distance: Some(rounded(found.least.distance * unit)).filter(|d| d.is_finite()),
            ropelength: ropelength(found, radius, unit),
            turn: screw.then(|| rounded(found.shape.turn)),
            lift: screw.then(|| rounded(found.shape.lift * unit)),
            limit: Limits {
                lengths: found.lengths.iter().map(|f| Limit::of(*f, unit)).collect(),
                turn: screw.then(|| Limit::of(found.turn, 1.0)),
                lift: screw.then(|| Limit::of(found.lift, unit)),
            },
            tolerance: tolerance.0,
            reached: rounded(found.reached),
            residual: rounded(found.residual),
            nodes: found.tubes.strands * found.tubes.nodes,
            evaluations: found.evaluations,
            ms: (ms * 10.0).round() / 10.0,
            crossings_kept: true,
        }
    }

    fn text(&self) -> String {
        let list = |all: Vec<String>| all.join(", ");
        let sure = |l: &Limit| format!("{} ± {:.1e}", l.value, l.error);
        let mut text = format!(
            "lengths        {}\n  in the limit {}\n",
            list(self.lengths.iter().map(f64::to_string).collect()),
            list(self.limit.lengths.iter().map(sure).collect())
        );
        if let Some(distance) = self.min_distance {
            text += &format!("min distance   {distance}\n");
        }
        text += &format!(
            "ropelength     {} by the radius, {} by half the least distance\n  in the limit {}\n",
            self.ropelength.nominal,
            self.ropelength.least_distance,
            sure(&self.ropelength.limit)
        );
        if let (Some(turn), Some(lift)) = (&self.limit.turn, &self.limit.lift) {
            text += &format!(
                "turn           {}\nlift           {}\n",
                sure(turn),
                sure(lift)
            );
        }
        text += &format!(
            "reached        {:.1e} where {:.0e} was asked, residual {:.1e}\n",
            self.reached, self.tolerance, self.residual
        );
        text += &format!(
            "solved in {:.0} ms, {} nodes, {} evaluations, crossings kept",
            self.ms, self.nodes, self.evaluations
        );
        text
    }
}

fn ropelength(found: &Accurate, radius: &[f64], unit: f64) -> Ropelength {
    let over = |lengths: &[f64]| -> f64 {
        let each = lengths.iter().zip(radius).map(|(l, r)| l * unit / r);
        each.sum()
    };
    let values: Vec<f64> = found.lengths.iter().map(|f| f.value).collect();
    let errors: Vec<f64> = found.lengths.iter().map(|f| f.error).collect();
    let nominal = over(&found.laid);
    Ropelength {
        nominal: rounded(nominal),
        least_distance: rounded(nominal / found.least.ratio.min(1.0)),
        limit: Limit {
            value: rounded(over(&values)),
            error: rounded(over(&errors)),
        },
    }
}
