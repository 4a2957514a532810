//! The shape of a solved cord.

/// One repeat of the tight cord, in millimetres, axis along z.
///
/// Piece `i` holds `nodes` points, `points[i * nodes ..]`; at level 0 it is
/// strand `i` of the design, the last one its core if it has one. After a repeat strand `i` continues where piece
/// `continues[i]` began, turned by `turn` about z and lifted by `lift`.
#[derive(Debug, Clone, PartialEq)]
pub struct Form {
    /// Number of strands, the core counted as one.
    pub strands: usize,
    /// Points of each piece, evenly spaced along it.
    pub nodes: usize,
    /// Which piece each strand goes on in.
    pub continues: Vec<usize>,
    /// Centre lines, `strands * nodes` points.
    pub points: Vec<[f64; 3]>,
    /// Radius at each point, squeezed as in the cord; of the round of equal area where the
    /// section is flat.
    pub radius: Vec<f64>,
    /// Half the wider side of the section at each point, as a vector along it, and nothing
    /// where it is round; empty if all are. Half the narrower side is `radius²` over its
    /// length.
    pub wide: Vec<[f64; 3]>,
    /// Rise of a repeat, mm.
    pub lift: f64,
    /// Turn of a repeat, radians, anticlockwise seen from above.
    pub turn: f64,
}
