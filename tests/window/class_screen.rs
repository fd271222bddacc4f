//! How the Class view fills a screen: type, full screen, notices, sheets over it, what the plot names.

use eframe::egui;
use egui_kittest::kittest::Queryable;
use heapwright::text::number::unparted;
use heapwright::window::View;
use heapwright::window::action::{Action, ClassAction};
use heapwright::window::class::zoom_for;
use heapwright::window::theme::Theme;

use crate::class::{ask, class_window, show};
use crate::support::{Window, window};

#[test]
fn type_is_larger_here_and_as_before_elsewhere() {
    let mut window = window();
    let plain = window.harness.ctx.zoom_factor();
    show(&mut window);
    assert!(window.harness.ctx.zoom_factor() >= 1.6 * plain);
    window.harness.state_mut().ask(Action::Show(View::Mix));
    window.run();
    window.run();
    assert_eq!(window.harness.ctx.zoom_factor(), plain);
}

#[test]
fn type_grows_with_the_screen() {
    let sizes = Theme::built_in().unwrap().sizes;
    let zoom = |width: f32, height: f32| zoom_for(egui::vec2(width, height), &sizes);
    assert_eq!(zoom(1024.0, 768.0), 1.6, "never smaller than before");
    assert_eq!(zoom(1280.0, 800.0), 1.6);
    // A quarter of the size, 480 by 270, is what the last row sees: running text of 8 pixels and more, a verdict of
    // twice that (8 pixels is about the least that is read; common practice).
    let full = zoom(1920.0, 1080.0);
    assert!(sizes.body * full / 4.0 >= 8.0, "{full}");
    assert!(sizes.verdict * full / 4.0 >= 16.0, "{full}");
    assert!(zoom(3840.0, 2160.0) > 1.9 * full);
    let mut window = class_window();
    let before = window.harness.ctx.zoom_factor();
    window.harness.set_size(egui::vec2(1920.0, 1080.0));
    window.run();
    window.run();
    assert!(window.harness.ctx.zoom_factor() > 1.2 * before);
}

#[test]
fn f11_fills_the_screen_and_esc_leaves_it() {
    let mut window = class_window();
    assert!(window.shows("File"));
    window.harness.key_press(egui::Key::F11);
    window.run();
    assert!(window.app().state.full_screen);
    assert!(!window.shows("File"), "the menus go");
    window.harness.key_press(egui::Key::Escape);
    window.run();
    assert!(!window.app().state.full_screen);
}

#[test]
fn a_toast_covers_none_of_the_big_controls_and_moves_none() {
    let mut window = class_window();
    window.run();
    let places = |window: &Window| {
        ["Turn it", "Water it", "Half the size"].map(|name| {
            let button = egui::accesskit::Role::Button;
            window.harness.get_by_role_and_label(button, name).rect()
        })
    };
    let before = places(&window);
    ask(&mut window, ClassAction::CopyHandout);
    let begun = std::time::Instant::now();
    while !window.shows("on the clipboard") {
        window.harness.step();
        std::thread::sleep(std::time::Duration::from_millis(20));
        assert!(begun.elapsed().as_secs() < 60, "nothing was told");
    }
    window.harness.run_steps(3);
    let toast = window
        .harness
        .get_by_label_contains("on the clipboard")
        .rect();
    assert_eq!(places(&window), before, "no button moves under a hand");
    for button in before {
        assert!(button.bottom() <= toast.top(), "{button} {toast}");
    }
}

#[test]
fn a_long_problem_moves_no_big_control_either() {
    let mut window = class_window();
    window.run();
    let place = |window: &Window| {
        let button = egui::accesskit::Role::Button;
        window
            .harness
            .get_by_role_and_label(button, "Turn it")
            .rect()
    };
    let before = place(&window);
    let long = "The file could not be written, for the folder does not exist. ".repeat(8);
    let notice = heapwright::window::piles::notices::Notice::problem(&long, "");
    let bench = &mut window.harness.state_mut().bench;
    bench.state.notices.tell(notice, 0.0);
    window.run();
    assert!(window.shows("Dismiss") && window.shows("All notices"));
    assert_eq!(place(&window), before);
}

#[test]
fn a_wide_sheet_over_the_class_has_the_room_it_needs() {
    let mut window = class_window();
    window.run();
    let large = window.harness.ctx.zoom_factor();
    let theme = heapwright::window::theme::Theme::built_in().unwrap();
    for (open, leave) in [
        (Action::AskWrong, Action::LeaveWrong),
        (Action::OpenDrawer, Action::CloseDrawer),
    ] {
        window.harness.state_mut().ask(open.clone());
        window.run();
        let room = window.harness.ctx.content_rect().size();
        assert!(room.x > theme.sizes.complaint_width, "{open:?}: {room}");
        assert!(room.y > theme.sizes.complaint_height, "{open:?}: {room}");
        window.harness.state_mut().ask(leave);
        window.run();
        window.run();
        assert_eq!(window.harness.ctx.zoom_factor(), large, "{open:?}");
    }
}

/// Where a text is painted, by its words.
fn painted(shape: &egui::Shape, words: &str) -> Option<egui::Pos2> {
    match shape {
        egui::Shape::Vec(all) => all.iter().find_map(|shape| painted(shape, words)),
        egui::Shape::Text(text) => {
            (text.galley.text().trim() == unparted(words)).then_some(text.pos)
        }
        _ => None,
    }
}

#[test]
fn the_line_of_55_is_named_where_the_heap_has_cooled() {
    let mut window = class_window();
    window.run();
    let shapes = &window.harness.output().shapes;
    let at = shapes.iter().find_map(|it| painted(&it.shape, "55 °C"));
    let right = window.harness.ctx.content_rect().right();
    let at = at.expect("the line has its name");
    // A hot heap rises over it within the first days, at the left.
    assert!(at.x > 0.85 * right, "{at} of {right}");
}
