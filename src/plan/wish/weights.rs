//! The counterweight that brings a cord nearest to a wish.

use super::Wish;
use super::options::Way;

/// Weights to look at, as shares of the one that hangs now.
const SHARES: [f64; 4] = [0.4, 0.65, 1.5, 2.5];
/// Least and most share of the strands' pull: with less the cord does not close, with
/// more it runs open. Our guess; what hangs now may be beyond it.
pub(super) const SHARE_OF_PULL: (f64, f64) = (0.08, 0.5);
/// Steps between two weights that lie on either side of the wish.
const STEPS: usize = 1;

/// The weight at which `figure` misses the wish least, g; none if it is the one there is.
///
/// `figure` gives the wished-for figure under a weight, or nothing where there is none.
pub(super) fn weight_for(
    way: &Way,
    wish: &Wish,
    figure: impl Fn(f64) -> Option<f64>,
) -> Option<f64> {
    let now = way.makings.counterweight;
    let told = |grams: f64| Some((grams, figure(grams)?));
    let shares = SHARES.iter().map(|share| share * now);
    let mut known: Vec<(f64, f64)> = shares.chain([now]).filter_map(told).collect();
    for _ in 0..STEPS {
        known.sort_by(|a, b| a.0.total_cmp(&b.0));
        let Some(between) = between(&known, wish) else {
            break;
        };
        known.extend(told(between));
    }
    let miss = |figure: f64| wish.miss(figure).abs();
    let best = known
        .into_iter()
        .min_by(|a, b| miss(a.1).total_cmp(&miss(b.1)))?;
    let grams = rounded(best.0);
    (grams != now).then_some(grams)
}

/// A weight between two on either side of the wish, by a straight line in its logarithm.
fn between(known: &[(f64, f64)], wish: &Wish) -> Option<f64> {
    let miss = |figure: f64| figure - wish.mm;
    let pair = known
        .windows(2)
        .find(|pair| miss(pair[0].1) * miss(pair[1].1) < 0.0)?;
    let ((light, a), (heavy, b)) = (pair[0], pair[1]);
    let share = miss(a) / (miss(a) - miss(b));
    Some(light * (heavy / light).powf(share))
}

/// As a maker would hang it: to 5 g, small ones to 1 g.
fn rounded(grams: f64) -> f64 {
    let step = if grams < 30.0 { 1.0 } else { 5.0 };
    ((grams / step).round() * step).max(1.0)
}

#[cfg(test)]
mod tests {
    use super::super::sample::cord_of;
    use super::*;

    fn found(figure: impl Fn(f64) -> Option<f64>, mm: f64) -> Option<f64> {
        let way = Way::as_it_is(&cord_of("Round spiral", 8));
        let wish = Wish::thickness(mm, 0.01).expect("it can be wished for");
        weight_for(&way, &wish, figure)
    }

    #[test]
    fn a_weight_between_two_is_found_and_hung_to_five_grams() {
        let thinner = |grams: f64| Some(8.0 - 0.5 * (grams / 70.0).ln());
        let grams = found(thinner, 7.8).expect("it thins");
        let wanted = 70.0 * (0.2_f64 / 0.5).exp();
        assert!((grams - wanted).abs() < 2.5, "{grams} for {wanted}");
        assert_eq!(grams % 5.0, 0.0);
    }

    #[test]
    fn a_weight_that_cannot_help_is_not_told() {
        let least_here = |grams: f64| Some(8.0 + (grams / 70.0).ln().abs());
        assert_eq!(found(least_here, 7.0), None);
        assert_eq!(found(|_| None, 7.0), None);
    }
}
