//! What must hold of every picture of a cord.

use super::samples::{chenille, crochet, leather, metal, pearl, ribbon, rope, satin, wool};
use super::{Stage, cord_picture, piece_size, whole_piece};
use crate::cord::Form;
use crate::drawing::{Bend, Detail, Ends, Ground, Raster, Thread, View};
use crate::material::{Appearance, Colour};

const RED: Colour = Colour([176, 40, 48]);
const SAND: Colour = Colour([222, 206, 170]);

fn linen() -> Ground {
    Ground::Linen {
        colour: Colour([0xE3, 0xDA, 0xCA]),
        weave: Colour([0xD8, 0xCD, 0xBA]),
        thread: 1.0,
        shadow: 0.42,
    }
}

fn view() -> View {
    View {
        width: 230,
        height: 90,
        pixels_per_mm: 22.0,
        start_mm: 0.4,
        roll: 0.2,
        centre_x: 0.0,
        centre_y: 44.0,
        bend: Bend::Straight,
    }
}

fn threads(looks: &[Appearance]) -> Vec<Thread> {
    let colours = [RED, SAND];
    let pairs = looks.iter().zip(colours.iter().cycle());
    pairs.map(|(l, c)| Thread::single(*l, *c)).collect()
}

/// One of each kind.
fn all_kinds() -> Vec<Thread> {
    let mut all = threads(&[
        satin(),
        pearl(),
        crochet(),
        wool(),
        chenille(),
        ribbon(),
        leather(),
        metal(),
    ]);
    let mut held_together = all[1].clone();
    held_together.ends.push(Ends {
        count: 2,
        ..all[7].ends[0]
    });
    all.push(held_together);
    all
}

fn with_processors<R: Send>(count: usize, work: impl FnOnce() -> R + Send) -> R {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(count);
    pool.build().unwrap().install(work)
}

fn alpha(raster: &Raster) -> Vec<u8> {
    raster.rgba.chunks_exact(4).map(|p| p[3]).collect()
}

/// Share of bytes that differ by more than rounding.
fn differing(a: &Raster, b: &Raster) -> f64 {
    assert_eq!((a.width, a.height), (b.width, b.height));
    let pairs = a.rgba.iter().zip(&b.rgba);
    pairs.filter(|(a, b)| a.abs_diff(**b) > 3).count() as f64 / a.rgba.len() as f64
}

#[test]
fn the_same_bytes_come_out_on_any_number_of_processors() {
    let form = rope(9, 10, 0.8);
    for detail in [Detail::Moving, Detail::Coarse, Detail::Fine] {
        let picture = || cord_picture(&form, &all_kinds(), &view(), &linen(), detail);
        let one = with_processors(1, picture);
        assert!(one == with_processors(3, picture), "{detail:?}");
        assert!(one == with_processors(2, picture), "{detail:?}");
    }
}

#[test]
fn the_picture_repeats_with_the_cord() {
    // After a repeat every strand has moved on by one place.
    let form = rope(4, 12, 1.0);
    let smooth = Appearance {
        mottle: 0.0,
        ..leather()
    };
    let threads = threads(&[smooth]);
    let first = cord_picture(&form, &threads, &view(), &Ground::Clear, Detail::Fine);
    let later = View {
        start_mm: view().start_mm + 3.0 * form.lift,
        roll: view().roll - 3.0 * form.turn,
        ..view()
    };
    let later = cord_picture(&form, &threads, &later, &Ground::Clear, Detail::Fine);
    let off = differing(&first, &later);
    assert!(off < 0.01, "{off}");
    let elsewhere = View {
        start_mm: view().start_mm + 0.4 * form.lift,
        ..view()
    };
    let elsewhere = cord_picture(&form, &threads, &elsewhere, &Ground::Clear, Detail::Fine);
    assert!(differing(&first, &elsewhere) > 0.05);
}

/// Two straight strands, one behind the other and a little aside.
#[test]
fn the_back_of_a_cord_is_drawn_where_nothing_is_in_front_of_it() {
    let mut form = rope(2, 8, 1.0);
    (form.turn, form.continues) = (0.0, vec![0, 1]);
    for (k, p) in form.points.iter_mut().enumerate() {
        let side = if k < 8 { 1.0 } else { -1.0 };
        *p = [side, 3.0 * side, form.lift * (k % 8) as f64 / 8.0];
    }
    let level = View {
        roll: 0.0,
        pixels_per_mm: 15.0,
        ..view()
    };
    let threads = threads(&[leather()]);
    let picture = cord_picture(&form, &threads, &level, &Ground::Clear, Detail::Fine);
    let column: Vec<bool> = (0..90)
        .map(|y| alpha(&picture)[y * 230 + 115] > 127)
        .collect();
    let bands = column.windows(2).filter(|w| !w[0] && w[1]).count();
    assert_eq!(bands, 2, "{column:?}");
}

/// Near the middle of its length, which lies lowest, a loop 3 m wide is as
/// good as straight: 5 mm aside it has risen by 0.01 mm.
#[test]
fn a_very_large_loop_looks_like_a_straight_cord() {
    let form = rope(4, 12, 1.0);
    let smooth = Appearance {
        mottle: 0.0,
        ..leather()
    };
    let threads = threads(&[smooth]);
    let bend = Bend::Loop { inner_mm: 3000.0 };
    let size = piece_size(&form, bend, view().roll).unwrap();
    let radius = (size.height_mm + 3000.0) / 4.0;
    let ring = View {
        centre_x: 115.0,
        centre_y: view().centre_y - 22.0 * radius,
        bend,
        ..view()
    };
    let straight = View {
        start_mm: ring.start_mm + size.length_mm / 2.0 - 115.0 / 22.0,
        ..view()
    };
    let picture = |view: &View| cord_picture(&form, &threads, view, &Ground::Clear, Detail::Fine);
    let (ring, straight) = (picture(&ring), picture(&straight));
    let off = differing(&ring, &straight);
    assert!(off < 0.02, "{off}");
    assert!(differing(&ring, &picture(&view())) > 0.05);
}

#[test]
fn the_whole_of_a_bent_cord_is_in_the_picture() {
    let form = rope(4, 12, 1.0);
    let bends = [
        Bend::Loop { inner_mm: 20.0 },
        Bend::Hanging {
            worn_mm: 60.0,
            span_mm: 25.0,
        },
    ];
    for (bend, size) in bends.into_iter().zip([(240, 160), (160, 240)]) {
        let (width, height) = size;
        let asked = View {
            width,
            height,
            bend,
            ..view()
        };
        let whole = whole_piece(&form, &asked);
        let threads = threads(&[satin()]);
        let picture = cord_picture(&form, &threads, &whole, &Ground::Clear, Detail::Fine);
        let covered = alpha(&picture);
        let rows: Vec<usize> = (0..height)
            .filter(|y| covered[y * width..(y + 1) * width].iter().any(|&a| a > 0))
            .collect();
        let (first, last) = (rows[0], rows[rows.len() - 1]);
        let tall = (last + 1 - first) as f64 / whole.pixels_per_mm;
        let size = piece_size(&form, bend, whole.roll).unwrap();
        assert!(first > 0 && last < height - 1, "{bend:?}");
        assert!(
            (tall / size.height_mm - 1.0).abs() < 0.05,
            "{tall} {size:?}"
        );
        let sides = covered.chunks_exact(width);
        assert!(sides.clone().all(|row| row[0] == 0 && row[width - 1] == 0));
    }
}

#[test]
fn the_outline_is_as_wide_as_the_form() {
    for look in [satin(), crochet(), leather(), metal()] {
        let look = Appearance {
            mottle: 0.0,
            fuzz: 0.0,
            relief: 0.85,
            ..look
        };
        let form = rope(6, 12, 0.7);
        let picture = cord_picture(
            &form,
            &threads(&[look]),
            &view(),
            &Ground::Clear,
            Detail::Fine,
        );
        let covered = alpha(&picture);
        let mut rows = (0..90).filter(|y| covered[y * 230..(y + 1) * 230].iter().any(|&a| a > 127));
        let (first, last) = (rows.next().unwrap(), rows.next_back().unwrap());
        let [x, y, _] = form.points[0];
        let wide = 2.0 * (x.hypot(y) + form.radius[0]) * 22.0;
        let drawn = (last + 1 - first) as f64;
        assert!(
            (drawn / wide - 1.0).abs() < 0.05,
            "{look:?}: {drawn} for {wide}"
        );
    }
}

#[test]
fn a_mirrored_form_gives_the_mirrored_outline() {
    let form = rope(3, 14, 1.2);
    let mut mirrored = form.clone();
    for p in &mut mirrored.points {
        p[0] = -p[0];
    }
    mirrored.turn = -form.turn;
    let threads = threads(&[Appearance {
        mottle: 0.0,
        ..leather()
    }]);
    let level = View {
        roll: 0.0,
        centre_y: 45.0,
        ..view()
    };
    let a = alpha(&cord_picture(
        &form,
        &threads,
        &level,
        &Ground::Clear,
        Detail::Fine,
    ));
    let b = alpha(&cord_picture(
        &mirrored,
        &threads,
        &level,
        &Ground::Clear,
        Detail::Fine,
    ));
    let mut off = 0;
    for y in 0..90 {
        for x in 0..230 {
            off += usize::from(a[y * 230 + x].abs_diff(b[(89 - y) * 230 + x]) > 64);
        }
    }
    assert!(off < 40, "{off} pixels differ");
}

#[test]
fn a_cord_of_z_lay_leans_like_a_backslash() {
    // Of two ropes' strands one is dark: its pixels go down to the right.
    let form = rope(2, 16, 1.5);
    let dark = Thread::single(leather(), Colour([20, 20, 20]));
    let light = Thread::single(leather(), Colour([240, 240, 240]));
    let picture = cord_picture(&form, &[dark, light], &view(), &Ground::Clear, Detail::Fine);
    let middle = |x: usize| {
        let rows = (0..90).filter(|y| {
            let p = &picture.rgba[4 * (y * 230 + x)..][..4];
            p[3] > 200 && p[0] < 100
        });
        let rows: Vec<usize> = rows.collect();
        (!rows.is_empty()).then(|| rows.iter().sum::<usize>() as f64 / rows.len() as f64)
    };
    let steps = (0..229).filter_map(|x| Some(middle(x + 1)? - middle(x)?));
    let (down, up) = steps.fold((0, 0), |(d, u), s| {
        (
            d + i32::from(s > 0.0 && s < 5.0),
            u + i32::from(s < 0.0 && s > -5.0),
        )
    });
    assert!(down > 2 * up, "{down} down, {up} up");
}

#[test]
fn colours_change_nothing_in_the_cover() {
    let form = rope(9, 10, 0.8);
    let red = all_kinds();
    let mut blue = red.clone();
    for ends in blue.iter_mut().flat_map(|t| &mut t.ends) {
        ends.colour = Colour([10, 30, 200]);
    }
    let mut stage = Stage::new(&form);
    let a = stage.picture(&red, &view(), &Ground::Clear, Detail::Fine);
    stage.picture(&blue, &view(), &Ground::Clear, Detail::Moving);
    let kept = stage.picture(&blue, &view(), &Ground::Clear, Detail::Fine);
    let fresh = cord_picture(&form, &blue, &view(), &Ground::Clear, Detail::Fine);
    assert_eq!(alpha(&a), alpha(&fresh));
    assert!(kept == fresh, "what is kept must not show");
    assert!(a != fresh);
}

#[test]
fn every_pixel_of_a_cord_on_linen_is_opaque() {
    let picture = cord_picture(
        &rope(4, 8, 1.0),
        &all_kinds(),
        &view(),
        &linen(),
        Detail::Fine,
    );
    assert!(alpha(&picture).iter().all(|&a| a == 255));
}

#[test]
fn a_moving_picture_looks_much_like_the_coarse_one() {
    let form = rope(5, 10, 0.8);
    let threads = threads(&[satin(), crochet()]);
    let coarse = cord_picture(&form, &threads, &view(), &linen(), Detail::Coarse);
    let moving = cord_picture(&form, &threads, &view(), &linen(), Detail::Moving);
    let apart = coarse.rgba.iter().zip(&moving.rgba);
    let mean =
        apart.map(|(a, b)| f64::from(a.abs_diff(*b))).sum::<f64>() / moving.rgba.len() as f64;
    assert!(mean < 9.0, "{mean}");
}

fn absurd_forms() -> Vec<Form> {
    let good = rope(3, 8, 1.0);
    let spoilt: [fn(&mut Form); 9] = [
        |f| f.lift = 0.0,
        |f| f.lift = f64::NAN,
        |f| f.lift = 1e-9,
        |f| f.lift = -f.lift,
        |f| f.radius.fill(0.0),
        |f| f.radius[2] = 1e9,
        |f| f.points[1] = [f64::NAN; 3],
        |f| f.points.fill([0.0; 3]),
        |f| f.points[4] = [1e12, -1e12, 1e12],
    ];
    let mut forms: Vec<Form> = spoilt
        .iter()
        .map(|spoil| {
            let mut form = good.clone();
            spoil(&mut form);
            form
        })
        .collect();
    forms.push(Form {
        strands: 0,
        nodes: 0,
        continues: vec![],
        points: vec![],
        radius: vec![],
        wide: vec![],
        lift: 1.0,
        turn: 0.0,
    });
    forms.push(rope(1, 1, 1.0));
    forms
}

#[test]
fn absurd_forms_give_a_picture_all_the_same() {
    let small = View {
        width: 40,
        height: 30,
        ..view()
    };
    for form in absurd_forms() {
        for detail in [Detail::Moving, Detail::Coarse, Detail::Fine] {
            let picture = cord_picture(&form, &all_kinds(), &small, &linen(), detail);
            assert_eq!(picture.rgba.len(), 40 * 30 * 4);
        }
    }
}

#[test]
fn absurd_views_give_a_picture_all_the_same() {
    let form = rope(3, 8, 1.0);
    let small = View {
        width: 50,
        height: 20,
        ..view()
    };
    let spoilt: [fn(&mut View); 13] = [
        |v| v.bend = Bend::Loop { inner_mm: 1e300 },
        |v| v.bend = Bend::Loop { inner_mm: -1.0 },
        |v| {
            v.bend = Bend::Hanging {
                worn_mm: f64::INFINITY,
                span_mm: 0.0,
            }
        },
        |v| {
            v.centre_x = f64::NAN;
            v.bend = Bend::Hanging {
                worn_mm: 1e9,
                span_mm: 1e-9,
            }
        },
        |v| (v.width, v.height) = (1, 1),
        |v| (v.width, v.height) = (0, 0),
        |v| v.pixels_per_mm = f64::NAN,
        |v| v.pixels_per_mm = 1e-9,
        |v| v.pixels_per_mm = 1e12,
        |v| v.start_mm = 1e300,
        |v| v.roll = f64::INFINITY,
        |v| v.centre_y = -1e9,
        |v| (v.width, v.height) = (301, 2),
    ];
    for spoil in spoilt {
        let mut view = small;
        spoil(&mut view);
        for detail in [Detail::Moving, Detail::Coarse, Detail::Fine] {
            for ground in [Ground::Clear, linen()] {
                let picture = cord_picture(&form, &all_kinds(), &view, &ground, detail);
                assert_eq!(picture.rgba.len(), 4 * picture.width * picture.height);
                assert!(picture.width > 0 && picture.height > 0);
            }
        }
    }
}

#[test]
fn a_picture_larger_than_any_screen_is_cut_to_what_can_be_held() {
    let huge = View {
        width: usize::MAX,
        height: usize::MAX,
        ..view()
    };
    let huge = huge.bounded();
    assert!(huge.width * huge.height <= 4096 * 2048);
}

#[test]
fn absurd_looks_give_a_picture_all_the_same() {
    let mut looks: Vec<Appearance> = all_kinds().iter().map(|t| t.ends[0].appearance).collect();
    for (i, look) in looks.iter_mut().enumerate() {
        let v = [f64::NAN, f64::INFINITY, -1e300, 1e300][i % 4];
        (look.twist, look.relief, look.lay, look.gloss) = (v, v, v, v);
        (look.spread, look.fuzz, look.mottle, look.plies) = (v, v, v, 255);
    }
    let form = rope(8, 8, 0.8);
    let none = Thread { ends: vec![] };
    for threads in [threads(&looks), vec![], vec![none]] {
        cord_picture(&form, &threads, &view(), &linen(), Detail::Fine);
    }
}

#[test]
fn many_strands_of_many_nodes_are_drawn() {
    let form = rope(32, 3000, 0.3);
    let picture = cord_picture(&form, &all_kinds(), &view(), &Ground::Clear, Detail::Coarse);
    assert!(alpha(&picture).iter().any(|&a| a > 0));
}

/// Mean brightness of a row of the picture, 0 to 255.
fn brightness(picture: &Raster, y: usize) -> f64 {
    let row = &picture.rgba[4 * y * picture.width..4 * (y + 1) * picture.width];
    let sum: f64 = row.chunks_exact(4).map(|p| f64::from(p[1])).sum();
    sum / picture.width as f64
}

#[test]
fn the_shadow_is_darkest_close_under_the_cord_and_fades() {
    let small = View {
        pixels_per_mm: 9.0,
        ..view()
    };
    let ground = Ground::Plain {
        colour: Colour([220; 3]),
        shadow: 0.5,
    };
    let form = rope(4, 10, 1.0);
    let picture = cord_picture(&form, &threads(&[satin()]), &small, &ground, Detail::Fine);
    let [x, y, _] = form.points[0];
    let foot = 44.0 + 9.0 * (x.hypot(y) + form.radius[0]);
    let under = brightness(&picture, foot as usize + 3);
    let farther = brightness(&picture, foot as usize + 9);
    let top = brightness(&picture, 0);
    assert!(
        under < farther - 1.0 && farther < top + 0.5,
        "{under} {farther} {top}"
    );
}

#[test]
fn hairs_stand_out_of_wool_and_not_of_leather() {
    let form = rope(4, 10, 1.0);
    let count = |look: Appearance| {
        let threads = threads(&[look]);
        let picture = cord_picture(&form, &threads, &view(), &Ground::Clear, Detail::Fine);
        let thin = alpha(&picture).into_iter().filter(|a| (1..100).contains(a));
        thin.count()
    };
    assert!(count(wool()) > 3 * count(leather()));
}
