//! How near two straight pieces come.

/// The shortest way from piece `p` to piece `q`, and where along each it
/// begins and ends, from 0 to 1.
pub(super) fn closest(p: [[f64; 3]; 2], q: [[f64; 3]; 2]) -> ([f64; 3], [f64; 2]) {
    let (d, e) = (sub(p[1], p[0]), sub(q[1], q[0]));
    let between = sub(p[0], q[0]);
    let (dd, ee, de) = (dot(d, d), dot(e, e), dot(d, e));
    let (by_d, by_e) = (dot(d, between), dot(e, between));
    let across = dd * ee - de * de;
    // On the whole lines first; side by side any place is as good.
    let mut s = if across > 1e-12 * dd * ee {
        ((de * by_e - by_d * ee) / across).clamp(0.0, 1.0)
    } else {
        0.5
    };
    let t = ((de * s + by_e) / ee).clamp(0.0, 1.0);
    s = ((de * t - by_d) / dd).clamp(0.0, 1.0);
    let way = std::array::from_fn(|i| q[0][i] + t * e[i] - p[0][i] - s * d[i]);
    (way, [s, t])
}

fn sub(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    std::array::from_fn(|i| a[i] - b[i])
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
