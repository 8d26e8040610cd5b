use super::*;
use proptest::prelude::*;

const AREA: Area = Area { top: 50.0, bottom: 750.0 };

fn slab(height: f64, before: f64) -> Slab {
    Slab { height, before, ..Slab::default() }
}

fn figure(height: f64) -> Slab {
    let smaller = [0.86, 0.74].map(|s| slab(height * s, 12.0)).to_vec();
    Slab { float: true, leads: true, smaller, ..slab(height, 12.0) }
}

/// Page, height and size of each slab.
fn places(slabs: &[Slab], plan: &Plan) -> Vec<(usize, f64, usize)> {
    let (mut page, mut y) = (0, AREA.top);
    let mut out = vec![(usize::MAX, 0.0, 0); slabs.len()];
    for step in &plan.moves {
        match *step {
            Move::Page => (page, y) = (page + 1, AREA.top),
            Move::Head { slab } => y += slabs[slab].head.as_ref().map_or(0.0, |h| h.height),
            Move::Put { slab, size, gap } => {
                assert_eq!(out[slab].0, usize::MAX, "put twice");
                out[slab] = (page, y + gap, size);
                y += gap + at_size(&slabs[slab], size).height;
            }
        }
    }
    out
}

/// A drawing that no text works from, taller than what its page has left.
#[test]
fn text_fills_the_page_before_a_drawing_that_does_not_fit() {
    let mut slabs = vec![slab(380.0, 0.0), Slab { float: true, ..slab(400.0, 12.0) }];
    slabs.extend((0..12).map(|_| slab(24.0, 6.0)));
    slabs.push(Slab { hold: true, ..slab(40.0, 14.0) });
    let at = places(&slabs, &plan(&slabs, Start { y: AREA.top, fresh: true }, AREA));
    assert_eq!((at[0].0, at[1].0), (0, 1));
    assert!(at[2].0 == 0 && at[9].0 == 0, "text goes on before it: {at:?}");
    assert!(at[1].1 == AREA.top, "it is the first of its page: {at:?}");
    assert!(at[14].0 == 1 && at[14].1 > at[1].1, "what is signed stays behind it: {at:?}");
}

/// All 13 fit on a page only with the figure smaller: better than a page to turn for each of them.
#[test]
fn a_figure_and_its_text_share_a_page_where_that_costs_none() {
    for items in [6, 12] {
        let mut slabs = vec![slab(380.0, 0.0), figure(400.0)];
        slabs.extend((0..items).map(|n| Slab { item: n > 0, ..slab(24.0, 6.0) }));
        slabs.push(Slab { hold: true, ..slab(40.0, 14.0) });
        let at = places(&slabs, &plan(&slabs, Start { y: AREA.top, fresh: true }, AREA));
        assert!(at[1..].iter().all(|place| place.0 == 1), "{at:?}");
    }
}

#[test]
fn no_picture_stands_between_two_items_of_a_list() {
    let mut slabs = vec![slab(380.0, 0.0), Slab { leads: true, float: true, ..slab(400.0, 12.0) }];
    slabs.extend((0..30).map(|n| Slab { item: n > 0, ..slab(24.0, 6.0) }));
    let at = places(&slabs, &plan(&slabs, Start { y: AREA.top, fresh: true }, AREA));
    assert!(at[1] < at[2], "the figure is first: {at:?}");
    assert!(at[2..].is_sorted());
}

#[test]
fn no_item_stands_alone_on_a_page() {
    let slabs: Vec<Slab> = (0..25).map(|n| Slab { item: n > 0, ..slab(24.0, 6.0) }).collect();
    let at = places(&slabs, &plan(&slabs, Start { y: AREA.top, fresh: true }, AREA));
    let overleaf = at.iter().filter(|p| p.0 == 1).count();
    assert!(overleaf > 1, "{at:?}");
}

#[test]
fn a_last_page_is_not_nearly_empty() {
    let slabs: Vec<Slab> = (0..36).map(|_| slab(20.0, 0.0)).collect();
    let at = places(&slabs, &plan(&slabs, Start { y: AREA.top, fresh: true }, AREA));
    assert!(at.iter().filter(|p| p.0 == 1).count() >= 3, "{at:?}");
}

proptest! {
    #[test]
    fn everything_is_set_once_in_order_and_on_its_page(
        spec in proptest::collection::vec((1.0..500.0f64, 0.0..30.0f64, 0u8..8), 1..50),
        used in 0.0..600.0f64,
    ) {
        let slabs: Vec<Slab> = spec.iter().map(|&(height, before, kind)| match kind {
            0 => figure(height),
            1 => Slab { keep: true, ..slab(height, before) },
            2 => Slab { hold: true, ..slab(height, before) },
            _ => slab(height, before),
        }).collect();
        let start = Start { y: AREA.top + used, fresh: used == 0.0 };
        let plan = plan(&slabs, start, AREA);
        let mut page = vec![(0, start.y)];
        for step in &plan.moves {
            match *step {
                Move::Page => page.push((page.len(), AREA.top)),
                Move::Head { .. } => prop_assert!(false, "no heads here"),
                Move::Put { slab, size, gap } => {
                    let last = page.len() - 1;
                    page[last].1 += gap + at_size(&slabs[slab], size).height;
                    prop_assert!(page[last].1 <= AREA.bottom + 0.02);
                }
            }
        }
        let order: Vec<usize> = plan.moves.iter().filter_map(|m| match m { Move::Put { slab, .. } => Some(*slab), _ => None }).collect();
        let mut sorted = order.clone();
        sorted.sort_unstable();
        prop_assert_eq!(sorted, (0..slabs.len()).collect::<Vec<_>>());
        let text: Vec<usize> = order.iter().copied().filter(|&i| !slabs[i].float).collect();
        prop_assert!(text.is_sorted());
        let figures: Vec<usize> = order.iter().copied().filter(|&i| slabs[i].float).collect();
        prop_assert!(figures.is_sorted());
        for hold in (0..slabs.len()).filter(|&i| slabs[i].hold && (i == 0 || !slabs[i - 1].keep)) {
            let at = order.iter().position(|&i| i == hold);
            for before in (0..hold).filter(|&i| slabs[i].float) {
                prop_assert!(order.iter().position(|&i| i == before) < at);
            }
        }
    }
}
