//! Glass beads: light that gathers on the far side, a window on the near one.
//!
//! Clear glass is darkest facing the lamp and lightest opposite, where the
//! light that went through comes out again; where it is thin its colour is
//! pale. Through it the hole shows as a darker line along the middle. What the
//! polish mirrors is a window towards the lamp with a bar across, and the sky
//! at the outline (Schlick's approximation of the mirrored share, 0.04 for
//! glass, from memory). Tried.

use super::super::light::Studio;
use super::super::look::Look;
use super::super::string::{LENGTH, RIM, own, place};
use super::super::vector::{Vec3, smooth_step, vec3};
use super::dye::Reflex;
use super::shine::Openness;
use super::{Spot, Touch};

/// Half the width and height of the mirrored window, and of its bar, as sines.
const WINDOW: (f32, f32) = (0.30, 0.36);
const BAR: f32 = 0.035;

/// Radius of the hole over that of the bead. Our guess.
const HOLE: f32 = 0.22;

/// The rounded surface of a bead or its flat end, and what is its own.
pub(crate) fn bead(look: &Look, spot: &Spot) -> Touch {
    let (number, u) = place(spot.arc);
    let own = |k: u32| own(number.into(), spot.seed as usize, k) * look.mottle;
    let mut touch = spot.smooth();
    let normal = if is_end(spot, u) {
        touch.cavity = 0.15 + 0.55 * smooth_step(HOLE, HOLE + 0.12, spot.height);
        spot.along * 1.0_f32.copysign(u)
    } else {
        touch.cavity = 0.30 + 0.70 * smooth_step(1.05, 0.70, u.abs());
        let steep = (1.0 - RIM * RIM) / LENGTH * u;
        spot.normal * spot.height + spot.along * steep
    };
    let dents = spot.along * (0.05 * own(6)) + spot.across() * (0.07 * own(7));
    touch.normal = (normal.unit() + dents).unit();
    touch.tone = 1.0 + 0.18 * own(8);
    touch.hue = 0.05 * own(9);
    touch.facet = 0.5 + 0.5 * own(10);
    touch
}

/// Whether the spot lies on a flat end.
fn is_end(spot: &Spot, u: f32) -> bool {
    u.abs() > 0.97 && spot.height < RIM - 0.01
}

/// What comes back from a bead's spot. Its highlight is white; its flash, of the
/// root of its colour.
pub(crate) fn reflex(
    studio: &Studio,
    look: &Look,
    (spot, touch): (&Spot, &Touch),
    open: Openness,
) -> Reflex {
    let (_, u) = place(spot.arc);
    let n = touch.normal;
    let room = open.room * touch.cavity;
    let rim = smooth_step(0.84, 0.93, u.abs()) * smooth_step(HOLE, RIM, spot.height);
    let body = 1.0 + 0.35 * rim;
    let (clear, solid) = (look.relief * body, (1.0 - look.relief) * body);
    let key = ((n.dot(studio.key) + 0.15) / 1.15).max(0.0) * open.lamp;
    let (light, thick) = through(studio, spot, n, room, open.lamp);
    Reflex {
        tone: touch.tone,
        hue: touch.hue,
        up: studio.up(n),
        room: 1.0,
        base: solid * room,
        key: solid * key,
        fill: 0.0,
        nap: clear * light * thick,
        shine: mirrored(studio, look, touch, room, open.lamp),
        flash: clear * light * (1.0 - thick) * touch.tone.max(0.0).sqrt(),
    }
}

/// Light that has been through the glass, and how thick that is there: thin
/// glass is pale, between the colour and its root.
fn through(studio: &Studio, spot: &Spot, n: Vec3, room: f32, lamp: f32) -> (f32, f32) {
    let near = n.z.clamp(0.0, 1.0);
    let far = vec3(-studio.key.x, -studio.key.y, studio.key.z);
    let gathered = n.dot(far).max(0.0);
    let gathered = gathered * gathered * gathered;
    let aside = n.dot(vec3(-spot.along.y, spot.along.x, 0.0).unit());
    let hole = 0.55 * smooth_step(0.36, 0.16, aside.abs());
    let light = 0.10 + 0.42 * room + 1.75 * gathered * (0.35 + 0.65 * lamp);
    (light * (1.0 - hole), 0.45 + 0.65 * near)
}

/// The window, the window's glow, and the sky at the outline.
fn mirrored(studio: &Studio, look: &Look, touch: &Touch, room: f32, lamp: f32) -> f32 {
    let n = touch.normal;
    let ray = n * (2.0 * n.z) - vec3(0.0, 0.0, 1.0);
    let key = studio.key;
    let level = vec3(key.z, 0.0, -key.x).unit();
    let (across, up) = (ray.dot(level), ray.dot(key.cross(level)));
    let soft = 0.35 * look.spread + 0.02;
    let edge = |v: f32, half: f32| smooth_step(half + soft, half - soft, v.abs());
    let size = 0.8 + 0.4 * touch.facet;
    let pane = edge(across, WINDOW.0 * size) * edge(up, WINDOW.1 * size);
    let bar = 1.0 - 0.8 * edge(across, BAR);
    let facing = smooth_step(0.3, 0.6, ray.dot(key));
    let glow = n.dot(studio.key_half).max(0.0);
    let glow = glow * glow * glow * glow;
    let window = (pane * bar * facing * (0.9 - 0.3 * touch.facet) + 0.10 * glow * glow) * lamp;
    let fill = n.dot(studio.fill_half).max(0.0);
    let lamp_right = 0.30 * smooth_step(0.975, 0.995, fill) * room;
    let away = 1.0 - n.z.clamp(0.0, 1.0);
    let schlick = 0.04 + 0.96 * away * away * away * away * away;
    let sky = studio.room(studio.up(ray)).y * schlick * room;
    (studio.key_colour.y * window + lamp_right + sky) * look.gloss
}
