//! scratch
use crate::harness::*;
use crate::plans;
#[test]
fn settle() {
    let mut e = editor(plans::small());
    let p = |e: &Editor, w: &str| println!("{w}: {:?} {:?}", rect_of(e, "tier 1 lane 3: A"), rect_of(e, "string A in the train side"));
    for i in 0..6 { p(&e, &format!("rest {i}")); e.step(); }
    use egui_kittest::kittest::Queryable as _;
    e.get_by_label("tier 1 lane 3: A").click();
    for i in 0..6 { p(&e, &format!("sel {i}")); e.step(); }
}
