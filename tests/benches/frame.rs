//! Frames of the whole editor on the full-train sample, without a display: layout, shapes and tessellation.

use super::{show, timed};
use egui::{Context, Event, Modifiers, PointerButton, Pos2, RawInput, Rect, pos2, vec2};
use longstow::edit::{Edit, OnDisk};
use longstow::gui::{Request, WorkPlace, Workbench};
use longstow::model::Plan;
use std::hint::black_box;
use std::time::{Duration, Instant};

/// Frames of a measurement.
const FRAMES: usize = 400;

/// Prints the time of a frame at rest with the pointer moving, and of a frame in which a string is dragged.
pub(crate) fn frames(plan: &Plan) {
    let mut window = Window::new(plan);
    let middle = pos2(600.0, 150.0);
    for _ in 0..8 {
        window.frame(vec![Event::PointerMoved(middle)]);
    }
    let moving = |frame: usize| middle + vec2((frame % 40) as f32, (frame % 7) as f32);
    let rest = (0..FRAMES).map(|frame| timed(|| window.frame(vec![Event::PointerMoved(moving(frame))])));
    show("frame of the editor, the pointer moving over the train", rest);

    window.frame(vec![Event::PointerMoved(middle), button(middle, true)]);
    for step in 1..8 {
        window.frame(vec![Event::PointerMoved(middle + vec2(step as f32, 0.0))]);
    }
    let drags = (0..FRAMES).map(|frame| timed(|| window.frame(vec![Event::PointerMoved(moving(frame))])));
    let times: Vec<_> = drags.collect();
    if window.workbench.preview().is_some() {
        show("frame of the editor while a string is dragged", times.into_iter());
    } else {
        println!("nothing was under the pointer: no frame in a drag measured");
    }
}

/// Prints the time that the window is busy with a step: making it, and the frames until all states are there.
pub(crate) fn steps(name: &str, plan: &Plan) {
    let mut window = Window::new(plan);
    let beside = WorkPlace::Beside;
    window.workbench = Workbench::new(plan.clone(), OnDisk::Yes).working(beside, &window.ctx);
    let mut made = Vec::new();
    let mut frames = Vec::new();
    for number in 0..10 {
        let edit = Edit::SetTitle { title: format!("Step {number}") };
        made.push(timed(|| window.workbench.ask(Request::Edit(edit))));
        let begun = Instant::now();
        while begun.elapsed() < Duration::from_millis(300) || !window.workbench.document().is_settled() {
            frames.push(timed(|| window.frame(Vec::new())));
            std::thread::sleep(Duration::from_millis(5));
        }
    }
    show(&format!("{name}: making a step"), made.into_iter());
    show(&format!("{name}: frame while the states follow"), frames.into_iter());
}

struct Window {
    ctx: Context,
    workbench: Workbench,
}

impl Window {
    fn new(plan: &Plan) -> Self {
        Self { ctx: Context::default(), workbench: Workbench::new(plan.clone(), OnDisk::Yes) }
    }

    fn frame(&mut self, events: Vec<Event>) {
        let screen = Rect::from_min_size(Pos2::ZERO, vec2(1280.0, 800.0));
        let input = RawInput { screen_rect: Some(screen), events, ..RawInput::default() };
        let workbench = &mut self.workbench;
        let mut output = self.ctx.run_ui(input, |ui| workbench.ui(ui));
        output.textures_delta.clear();
        black_box(self.ctx.tessellate(output.shapes, output.pixels_per_point));
    }
}

fn button(pos: Pos2, pressed: bool) -> Event {
    Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE }
}
