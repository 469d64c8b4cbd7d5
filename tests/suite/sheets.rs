//! The printed sheets as pages of data: whatever the plan, nothing overflows, and the figures are those of `figures`.

use crate::trains::{place, plan, reference_plan, reference_wagon};
use longstow::checks::assess;
use longstow::format;
use longstow::model::{
    Acceptance, Drop, DropName, LimitKind, Plan, Signature, Step, StepKind, StepStrings, StringMark,
    TrainEnd, VehicleMark,
};
use longstow::report::sheet::{Face, Frame, Page, Pages, Paper, SheetOptions, Words, pdf, sheet, svg};
use longstow::statics::{Figures, Scope};
use longstow::units::{DecimalMark, Style, UnitSystem};
use serde_json::Value;
use std::path::Path;
use std::sync::Arc;

/// Every sample by its file name.
fn samples() -> Vec<(String, Plan)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-loads");
    let mut found: Vec<(String, Plan)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| {
            let path = entry.unwrap().path();
            let plan = format::read(&std::fs::read(&path).unwrap()).unwrap();
            (path.file_name().unwrap().to_string_lossy().into_owned(), plan)
        })
        .collect();
    found.sort_by(|a, b| a.0.cmp(&b.0));
    assert!(found.len() >= 8);
    found
}

fn sample(letter: char) -> Plan {
    samples().into_iter().find(|(name, _)| name.starts_with(letter)).unwrap().1
}

fn options(paper: Paper) -> SheetOptions {
    SheetOptions { paper, made_at: "2026-03-09 14:05 +01:00".to_owned(), ..SheetOptions::default() }
}

fn pages(plan: Plan, options: &SheetOptions) -> Pages {
    let figures = Figures::of(Arc::new(plan), Scope::All);
    sheet(&figures, &assess(&figures), options)
}

/// All words of the pages whose part begins with `part`, in the order of painting.
fn said(pages: &Pages, part: &str) -> String {
    let of_part = pages.pages.iter().filter(|page| page.title.starts_with(part));
    let words: Vec<&str> = of_part.flat_map(Page::words).map(|words| words.text.as_str()).collect();
    words.join(" ")
}

/// Everything lies on its page, every text in its room and none on another.
fn check_fits(pages: &Pages, name: &str) {
    let paper = Frame::new(0.0, 0.0, pages.size_mm.0, pages.size_mm.1);
    for (nth, page) in pages.pages.iter().enumerate() {
        let at = format!("{name}, page {} ({})", nth + 1, page.title);
        for mark in &page.marks {
            assert!(paper.holds(mark.frame()), "{at}: {mark:?}");
        }
        let words: Vec<&Words> = page.words().collect();
        for word in &words {
            let measured = word.face.width_mm(&word.text, word.size_pt);
            assert!((measured - word.width_mm).abs() < 1.0e-6, "{at}: {word:?} is {measured} mm wide");
            assert!(word.room.holds(word.frame()), "{at}: {word:?}");
            assert!(word.size_pt > 2.4, "{at}: {word:?} cannot be read");
        }
        for (nth, one) in words.iter().enumerate() {
            for other in &words[nth + 1..] {
                assert!(!overlap(one.frame(), other.frame()), "{at}: {one:?} lies on {other:?}");
            }
        }
    }
}

/// Whether two rectangles overlap by more than a tenth of a millimetre both ways.
fn overlap(a: Frame, b: Frame) -> bool {
    const SLACK_MM: f64 = 0.1;
    let across = a.right_mm().min(b.right_mm()) - a.left_mm.max(b.left_mm);
    let down = a.bottom_mm().min(b.bottom_mm()) - a.top_mm.max(b.top_mm);
    across > SLACK_MM && down > SLACK_MM
}

/// Every page names plan, hash, time and its own number.
fn check_running(pages: &Pages, plan: &Plan) {
    let hash = &format::plan_hash(plan)[..12];
    let count = pages.pages.len();
    for (nth, page) in pages.pages.iter().enumerate() {
        let said: Vec<&str> = page.words().map(|words| words.text.as_str()).collect();
        assert!(said.contains(&format!("Page {} of {count}", nth + 1).as_str()), "{said:?}");
        let foot = said.iter().find(|words| words.contains(hash)).unwrap();
        assert!(foot.contains("2026-03-09 14:05 +01:00"), "{foot}");
        assert!(said.iter().any(|words| plan.title.starts_with(words.trim_end_matches('…'))), "{said:?}");
    }
}

#[test]
fn nothing_overflows_on_the_sheets_of_any_sample_on_either_paper() {
    for (name, plan) in samples() {
        for paper in Paper::ALL {
            let pages = pages(plan.clone(), &options(paper));
            check_fits(&pages, &name);
            check_running(&pages, &plan);
        }
    }
}

#[test]
fn us_units_and_a_decimal_comma_fit_as_well() {
    for letter in ['b', 'c', 'd', 'f'] {
        let style = Style { units: UnitSystem::UsCustomary, decimal: DecimalMark::Comma };
        let pages = pages(sample(letter), &SheetOptions { style, ..options(Paper::Letter) });
        check_fits(&pages, &letter.to_string());
        assert!(said(&pages, "Axle").contains("short tons"));
    }
}

/// 80 strings with the longest marks there can be on 60 wagons, ends everywhere, three sites.
fn crowded() -> Plan {
    let lanes: Vec<f64> = (0..16).map(|lane| -1_200.0 + 160.0 * f64::from(lane)).collect();
    let mut plan = plan(&lanes, 5);
    plan.train.vehicle_types.push(reference_wagon());
    for wagon in 1..=60 {
        let long = VehicleMark::new(&format!("{}{wagon:02}", "W".repeat(62))).unwrap();
        let vehicle_type = plan.train.vehicle_types[0].name.clone();
        plan.train.vehicles.push(longstow::model::Vehicle {
            mark: long,
            vehicle_type,
            turned: wagon % 3 == 0,
            tare_kg: None,
            height_offset_mm: 0.0,
        });
    }
    plan.title = "M".repeat(400);
    plan.notes = "Notes without an end. ".repeat(100);
    for tier in 1..=5_u32 {
        for lane in 1..=16_u32 {
            let front = 1_000 + i64::from(tier * 16 + lane) * 3_210;
            place(&mut plan, "60E1", 300_000 + i64::from(lane) * 25_000, (tier, lane, front));
        }
    }
    let mut sites: Vec<Vec<StringMark>> = vec![Vec::new(); 3];
    for nth in (0..plan.order.len()).rev() {
        let mark = StringMark::new(&format!("{}-{nth:02}", "Ж".repeat(61))).unwrap();
        plan.order[nth].mark = mark.clone();
        plan.placements[nth].string = mark.clone();
        sites[nth % 3].push(mark);
    }
    plan.drops = sites.into_iter().enumerate().map(|(nth, marks)| site(nth, marks)).collect();
    plan
}

fn site(nth: usize, marks: Vec<StringMark>) -> Drop {
    let step = |mark| Step { kind: StepKind::Off, strings: StepStrings::One(mark), toward: None };
    Drop {
        name: DropName::new(&format!("{}{nth}", "Site ".repeat(12))).unwrap(),
        place: "A place that has a very long description. ".repeat(20),
        toward: TrainEnd::Rear,
        gap_between: None,
        possession_min: None,
        handling_min: None,
        chute_height: None,
        chute_roller_behind: None,
        chute_roller_lower: None,
        seat_offset: None,
        steps: marks.into_iter().map(step).collect(),
    }
}

#[test]
fn eighty_strings_with_long_marks_on_sixty_wagons_fit() {
    let plan = crowded();
    assert!(longstow::model::problems(&plan).is_empty(), "{:?}", longstow::model::problems(&plan));
    for paper in Paper::ALL {
        let pages = pages(plan.clone(), &options(paper));
        check_fits(&pages, "crowded");
        check_running(&pages, &plan);
        // Marks that differ at their ends alone are told apart in the list to load by.
        let list = said(&pages, "Loading list").replace(' ', "");
        for nth in 0..80 {
            assert!(list.contains(&format!("Ж-{nth:02}")), "string {nth}");
        }
    }
}

#[test]
fn an_empty_plan_and_a_train_without_racks_have_sheets_too() {
    let empty = plan(&[0.0], 1);
    let mut bare = reference_plan();
    bare.train.vehicle_types[0].racks.clear();
    let mut unloaded = reference_plan();
    unloaded.placements.clear();
    for (name, plan) in [("empty", empty), ("bare", bare), ("unloaded", unloaded)] {
        let pages = pages(plan.clone(), &options(Paper::A4));
        check_fits(&pages, name);
        check_running(&pages, &plan);
        assert!(pages.pages.len() >= 9, "{name}: {}", pages.pages.len());
    }
}

#[test]
fn what_the_faces_do_not_have_is_shown_by_its_code_in_notes_as_a_box_and_said() {
    let mut odd = sample('f');
    odd.title = "\u{202E}Load 鉄道 for Łódź, Гродно and Ωmega\u{7}".to_owned();
    odd.notes = "ask the yard in 鉄道\nsecond line".to_owned();
    let title = odd.title.clone();
    let pages = pages(odd, &options(Paper::A4));
    check_fits(&pages, "odd");
    assert!(pages.missing.contains(&'鉄') && pages.missing.contains(&'\u{202E}'), "{:?}", pages.missing);
    let cover = said(&pages, "Cover");
    assert!(cover.contains("[202E]Load [9244][9053] for Łódź, Гродно and Ωmega[0007]"), "{cover}");
    assert!(cover.contains("U+9244") && cover.contains("U+202E"), "{cover}");
    assert!(cover.contains("ask the yard in □□") && cover.contains("second line"), "{cover}");
    assert_eq!(pages.title, title, "the file's own title needs no face");
}

/// Two strings whose marks have no character that the faces have.
#[test]
fn strings_in_scripts_that_the_faces_do_not_have_stay_told_apart() {
    let mut odd = sample('a');
    let marks = ["한국어", "ไทย"];
    for (at, mark) in marks.into_iter().enumerate() {
        let old = odd.order[at].mark.clone();
        odd.order[at].mark = mark.parse().unwrap();
        odd.placements.iter_mut().filter(|one| one.string == old).for_each(|one| {
            one.string = mark.parse().unwrap();
        });
    }
    let pages = pages(odd, &options(Paper::A4));
    check_fits(&pages, "odd marks");
    for part in ["Loading list", "Loading cards", "Train diagram"] {
        let words = said(&pages, part);
        assert!(!words.contains('□'), "{part}: {words}");
        // Where there is little room a mark keeps its beginning and its end.
        assert!(words.contains("[D55C]") && words.contains("[0E44]"), "{part}: {words}");
    }
}

/// A line of the notes begins a line on the cover.
#[test]
fn notes_keep_their_lines_on_the_cover() {
    let mut noted = sample('a');
    noted.notes = "First line\n\nthird line\n".to_owned();
    let pages = pages(noted, &options(Paper::A4));
    let cover = pages.pages.iter().find(|page| page.title == "Cover").unwrap();
    let at = |text: &str| cover.words().find(|words| words.text == text).unwrap().at;
    let (first, third) = (at("First line"), at("third line"));
    assert!((first.x_mm - third.x_mm).abs() < 1.0e-9 && third.y_mm > first.y_mm + 5.0, "{first:?} {third:?}");
}

#[test]
fn equal_plans_give_equal_bytes_and_a_changed_figure_gives_others() {
    let bytes = |plan: Plan| pdf(&pages(plan, &options(Paper::A4))).unwrap();
    let once = bytes(sample('h'));
    assert_eq!(once, bytes(sample('h')));
    let mut other = sample('h');
    other.train.vehicle_types[0].tare_kg += 100.0;
    assert_ne!(once, bytes(other));
}

#[test]
fn the_cover_tells_the_verdict_and_every_part_with_its_page() {
    let plan = sample('c');
    let pages = pages(plan.clone(), &options(Paper::A4));
    let cover = said(&pages, "Cover");
    assert!(cover.contains("No entered limit is broken in any of 78 states."), "{cover}");
    assert!(cover.contains(&format::plan_hash(&plan)), "{cover}");
    assert!(!cover.to_lowercase().contains("may run") && !cover.to_lowercase().contains("safe"), "{cover}");
    for part in
        ["Train diagram", "Loading list", "Loading cards", "Rack loads", "Site 2: Brackenlow", "Findings"]
    {
        let page = pages.pages.iter().position(|page| page.title == part).unwrap() + 1;
        assert!(cover.contains(&format!("{part} {page}")), "{part} is on page {page}: {cover}");
    }
}

/// The rows of a part in a state: words of one height, from left to right.
fn rows(pages: &Pages, part: &str) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    for page in pages.pages.iter().filter(|page| page.title == part) {
        let mut words: Vec<&Words> = page.words().collect();
        words.sort_by(|a, b| {
            let key = |words: &Words| (words.at.y_mm * 10.0).round() as i64;
            key(a).cmp(&key(b)).then(a.at.x_mm.total_cmp(&b.at.x_mm))
        });
        for line in words.chunk_by(|a, b| (a.at.y_mm - b.at.y_mm).abs() < 0.2) {
            rows.push(line.iter().map(|words| words.text.clone()).collect());
        }
    }
    rows
}

fn tonnes(kg: &Value) -> String {
    format!("{:.2}", kg.as_f64().unwrap() / 1000.0)
}

fn ratio(ratio: &Value) -> String {
    format!("{:.2}", ratio.as_f64().unwrap())
}

/// The figures of two states as the JSON tells them, in the order of the printed rows.
fn check_figures(letter: char, states: [usize; 2]) {
    let figures = Figures::of(Arc::new(sample(letter)), Scope::All);
    let json: Value =
        serde_json::from_str(&longstow::report::figures_json("plan", &figures).unwrap()).unwrap();
    let options = SheetOptions { state: Some(states[1]), ..options(Paper::A4) };
    let pages = sheet(&figures, &assess(&figures), &options);
    let (mut supports, mut racks) = (Vec::new(), Vec::new());
    for state in states {
        for vehicle in json["states"][state]["vehicles"].as_array().unwrap() {
            for support in vehicle["supports"].as_array().unwrap() {
                let masses = [&support["load_kg"], &support["axle_kg"], &support["largest_wheel_kg"]];
                let [bogie, axle, wheel] = masses.map(tonnes);
                supports.push([bogie, axle, wheel, ratio(&support["wheel_ratio"])]);
            }
        }
        for rack in json["states"][state]["racks"].as_array().unwrap() {
            racks.push(tonnes(&rack["total_kg"]));
        }
    }
    let told: Vec<[String; 4]> = rows(&pages, "Axle, bogie and wheel loads")
        .into_iter()
        .filter_map(|row| {
            let at = row.iter().position(|cell| cell == "front bogie" || cell == "rear bogie")?;
            let cells = &row[at + 1..];
            assert_eq!(cells.len(), 11, "{row:?}");
            Some([&cells[0], &cells[3], &cells[6], &cells[9]].map(String::clone))
        })
        .collect();
    assert_eq!(told, supports);
    let told: Vec<String> = rows(&pages, "Rack loads")
        .into_iter()
        .filter(|row| row.len() > 10 && row[0].contains(" rack "))
        .map(|row| row[2].clone())
        .collect();
    assert_eq!(told, racks);
}

#[test]
fn printed_axle_bogie_wheel_and_rack_loads_are_those_of_the_figures_as_json() {
    check_figures('c', [0, 40]);
    check_figures('b', [0, 5]);
}

#[test]
fn a_single_page_as_svg_holds_the_same_words() {
    let pages = pages(sample('h'), &options(Paper::A4));
    for page in &pages.pages {
        let svg = svg(page, pages.size_mm, "One & only");
        assert!(svg.contains("<title>One &amp; only</title>") && svg.ends_with("</svg>\n"));
        assert_eq!(svg.matches("<text ").count(), page.words().count());
        assert!(!svg.contains("NaN") && !svg.contains("inf"));
    }
    assert!(Face::ALL.iter().all(|face| face.bytes().len() > 100_000));
}

/// Sample (c) with a wheel ratio so narrow that half-done pairs break it, moved one by one.
fn half_done_breaks() -> Plan {
    let mut plan = sample('c');
    let wheels = plan.limits.entries.get_mut(&LimitKind::WheelRatio).unwrap();
    wheels.running = 1.1;
    for step in plan.drops.iter_mut().flat_map(|drop| &mut drop.steps) {
        if let StepStrings::Pair { together, .. } = &mut step.strings {
            *together = false;
        }
    }
    plan
}

#[test]
fn the_sheet_of_a_site_tells_of_half_done_states_that_break_a_limit() {
    // How to read the table says it once.
    let told = |pages: &Pages| said(pages, "Site 2").matches("breaks a limit").count();
    assert_eq!(told(&pages(sample('c'), &options(Paper::A4))), 1);
    let broken = pages(half_done_breaks(), &options(Paper::A4));
    assert!(told(&broken) > 1, "{}", said(&broken, "Site 2"));
    check_fits(&broken, "half done");
}

#[test]
fn strings_that_come_on_have_their_ends_and_holds_on_the_sheet_of_their_site() {
    let site = said(&pages(sample('c'), &options(Paper::A4)), "Site 2");
    let places = site.split("Where the strings that come on are to lie").nth(1).unwrap();
    for mark in ["Q01 L", "Q01 R", "Q02 L", "Q02 R"] {
        let row = places.split(mark).nth(1).unwrap();
        assert!(row.contains("in front of W") && row.contains("W11 rack 2"), "{mark}: {row}");
    }
}

#[test]
fn long_notes_stand_in_full_and_the_cover_says_where() {
    let mut plan = sample('c');
    plan.notes = format!("{}DO NOT PASS THE TUNNEL", "Many words of some length. ".repeat(60));
    let pages = pages(plan, &options(Paper::A4));
    assert!(said(&pages, "Cover").contains("They stand in full under"));
    assert!(said(&pages, "Records").contains("DO NOT PASS THE TUNNEL"));
    check_fits(&pages, "long notes");
}

#[test]
fn records_are_told_on_the_cover_and_readings_are_compared_with_the_load_as_it_is() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/plans/three-flats-recorded.longstow");
    let mut plan = format::read(&std::fs::read(path).unwrap()).unwrap();
    let cover = said(&pages(plan.clone(), &options(Paper::A4)), "Cover");
    assert!(cover.contains("As planned: ") && cover.contains("As loaded: "), "{cover}");
    assert!(cover.contains("3 of 4 strings confirmed, 1 string otherwise than planned"), "{cover}");
    // What the records leave open is no less open than a broken limit.
    assert!(cover.contains("As loaded: 1 of 4 strings is not confirmed."), "{cover}");
    let mut signed = plan.clone();
    signed.signatures =
        vec![Signature { by: "A. Hand".to_owned(), at: "2026-03-09".to_owned(), hash: "0".repeat(64) }];
    let cover = said(&pages(signed, &options(Paper::A4)), "Cover");
    assert!(cover.contains("the plan was changed since A. Hand signed it on 2026-03-09"), "{cover}");
    // A string that is missing takes its weight off every reading that is told.
    let computed = |plan: &Plan| {
        let records = said(&pages(plan.clone(), &options(Paper::A4)), "Records");
        records.split("Readings of scales").nth(1).unwrap().to_owned()
    };
    let before = computed(&plan);
    for record in &mut plan.as_loaded {
        record.missing = true;
    }
    assert_ne!(before, computed(&plan));
}

#[test]
fn accepted_limits_stand_on_the_cover() {
    let mut plan = sample('f');
    let figures = Figures::of(Arc::new(plan.clone()), Scope::All);
    let assessment = assess(&figures);
    let fails: Vec<_> = assessment.findings.iter().filter(|finding| finding.is_open()).collect();
    plan.accepted.extend(fails.iter().map(|fail| Acceptance {
        check: fail.check.id.to_owned(),
        things: fail.things.clone(),
        by: "A. Hand".to_owned(),
        why: "seen on site".to_owned(),
        at: "2026-03-09".to_owned(),
        found: None,
    }));
    let cover = said(&pages(plan, &options(Paper::A4)), "Cover");
    assert!(cover.contains("Open points (0)"), "{cover}");
    assert!(cover.contains(&format!("Broken and accepted by name ({})", fails.len())), "{cover}");
    assert!(cover.contains("accepted by A. Hand (seen on site)"), "{cover}");
}
