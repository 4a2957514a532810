//! Any piece that makes sense, for tests.

use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

use super::piece::{Binding, Closure, End, Kind, Measure, Pendant, Piece, Round, Size, Wearer};

/// Any sensible measure.
pub(crate) fn any_measure() -> impl Strategy<Value = Measure> {
    prop_oneof![
        (60.0..2000.0).prop_map(Measure::Length),
        (60.0..700.0, 0.0..40.0).prop_map(|(girth, ease)| Measure::Round { girth, ease }),
    ]
}

/// Any sensible end.
pub(crate) fn any_end() -> impl Strategy<Value = End> {
    prop_oneof![
        Just(End::Cap),
        Just(End::Bare),
        (1.0..40.0, 1.0..9.0).prop_map(|(width, thickness)| End::FlatCap { width, thickness }),
        (1.0..40.0).prop_map(|width| End::Crimp { width }),
        (0.0..30.0).prop_map(|thicknesses| End::Knot { thicknesses }),
        (0.0..200.0).prop_map(|length| End::Tassel { length }),
        (1.0..60.0).prop_map(|opening| End::Loop { opening }),
        (1.0..40.0).prop_map(|across| End::Button { across }),
    ]
}

/// Any closure that leaves room for cord.
pub(crate) fn any_closure() -> impl Strategy<Value = Closure> {
    let rest = any::<[bool; 3]>();
    ("[a-z ]{0,9}", 0.0..50.0, rest).prop_map(|(name, adds, [with_ends, breakaway, magnetic])| {
        Closure {
            name,
            adds,
            with_ends,
            breakaway,
            magnetic,
        }
    })
}

/// Any sensible binding.
pub(crate) fn any_binding() -> impl Strategy<Value = Binding> {
    let round = prop_oneof![Just(Round::Braid), Just(Round::Tails)];
    let sizes = (0.0..1.0, 0_u8..5, 0.0..20.0, 0.0..1.0);
    (round, sizes).prop_map(|(round, (thread, layers, width, seal))| Binding {
        round,
        thread,
        layers,
        width,
        seal,
    })
}

/// Any further sizes; some take more off than there is.
pub(crate) fn any_sizes() -> impl Strategy<Value = Vec<Size>> {
    let size = ("[A-Z]{1,2}", -80.0..200.0).prop_map(|(name, longer)| Size { name, longer });
    vec(size, 0..4)
}

fn any_pendant() -> impl Strategy<Value = Pendant> {
    let pendant = ("[a-z ]{0,9}", 0.5..30.0, 0.0..90.0);
    pendant.prop_map(|(name, bail, grams)| Pendant { name, bail, grams })
}

/// Any sound piece.
pub(crate) fn any_piece() -> impl Strategy<Value = Piece> {
    let caps = (vec(1.0..20.0, 0..6), any::<bool>(), 1.0..20.0);
    let shape = (any_measure(), any_closure(), [any_end(), any_end()]);
    let finish = (any_binding(), 0.0..1.0, option::of(any_pendant()));
    let kind = proptest::sample::select(Kind::ALL.to_vec());
    let wearer = proptest::sample::select(vec![Wearer::Grown, Wearer::Child, Wearer::Infant]);
    let counts = (kind, wearer, 1_u16..9, 1_u16..9, any_sizes(), any::<bool>());
    (caps, shape, finish, counts).prop_map(|(caps, shape, finish, counts)| {
        let (mut caps, choose, cap_depth) = caps;
        caps.sort_by(f64::total_cmp);
        caps.dedup();
        let cap = caps.first().copied().filter(|_| choose);
        let (measure, closure, ends) = shape;
        let (binding, glue_gap, pendant) = finish;
        let (kind, wearer, from_one_cord, cords, mut sizes, folded) = counts;
        sizes.retain(|size| measure.longer(size.longer).bare() > closure.adds);
        Piece {
            caps,
            cap,
            cap_depth,
            kind,
            measure,
            closure,
            ends,
            binding,
            glue_gap,
            pendant,
            wearer,
            from_one_cord,
            cords,
            sizes,
            folded,
        }
    })
}
