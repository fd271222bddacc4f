//! What is done with kept recipes and examples: listed, opened as copies, started again, copied, renamed, put away and
//! brought back, compared.
//!
//! In: what was asked for; answers of the jobs. Out: files, another open recipe, notices, what is shown of cards.
//!
//! Not here: opening and keeping (`files`), files as such (`document::keeping`), the calculation (`jobs::recipes`).
//!
//! Tested by: `tests/window/recipes.rs`.

use std::path::{Path, PathBuf};

use eframe::egui;

use crate::assess::WasRead;
use crate::document::keeping::{self, Renamed};
use crate::document::library::{Library, Recipe};
use crate::document::{FileError, Folders, Project, file, library};
use crate::text::error::{RECIPE_NOT_CHANGED, no_thread};
use crate::text::mix::name_of;
use crate::text::recipes as words;

use crate::window::action::RecipeAction;
use crate::window::jobs::job::Told;
use crate::window::jobs::recipes::Source;
use crate::window::piles::choices::{Next, View};
use crate::window::piles::notices::Notice;
use crate::window::piles::recipe_cards::{
    CardKey, CardShown, ComparedShown, ComparedSide, Listed, RecipesPage, Renaming,
};
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Carries out what was asked of recipes.
    pub(in crate::window) fn perform_recipe(&mut self, action: RecipeAction, ctx: &egui::Context) {
        match action {
            RecipeAction::OpenExample(place) => self.guarded(Next::Example(place), ctx),
            RecipeAction::StartAgain { key, .. } => self.start_again(&key, ctx),
            RecipeAction::Copy(path) => self.copy_recipe(&path),
            RecipeAction::StartRename(path) => {
                let title = self.title_of(&path).to_owned();
                self.state.recipes.renaming = Some(Renaming {
                    path,
                    title,
                    focused: false,
                });
            }
            RecipeAction::Rename => self.rename_recipe(),
            RecipeAction::LeaveRename => self.state.recipes.renaming = None,
            RecipeAction::PutAway(path) => self.put_away(&path),
            RecipeAction::BringBack(path) => self.bring_back(&path),
            RecipeAction::Tick(key) => self.tick(key),
            RecipeAction::TickNone => self.state.recipes.ticked.clear(),
            RecipeAction::Compare => self.compare(ctx),
            RecipeAction::Show(page) => {
                self.state.recipes.page = page;
                if page != RecipesPage::Compared {
                    self.jobs.comparing.call_off();
                }
                self.list_recipes();
            }
        }
    }

    /// Lists recipe folder and bin anew. What was known of a recipe stays as long as its file is the same.
    pub(in crate::window) fn list_recipes(&mut self) {
        if let Some(folders) = &self.store.folders {
            self.shelf.library = library::list_again(folders, &self.shelf.library);
            self.shelf.bin = library::bin(folders);
        }
        let built_in = &self.stock.built_in;
        let named = |id: &str| name_of(id, built_in).to_owned();
        let kept = self.shelf.library.recipes.iter().map(|recipe| {
            let materials: Vec<String> = recipe.materials.iter().map(|id| named(id)).collect();
            Listed::kept(recipe, &materials)
        });
        let examples = self.shelf.examples.iter().enumerate();
        let examples = examples.map(|(place, project)| {
            let ingredients = project.mix.ingredients.iter();
            let materials: Vec<String> = ingredients.map(|it| named(&it.material)).collect();
            Listed::example(place, project, &materials)
        });
        self.shelf.cards = kept.chain(examples).collect();
        // Kept ones stay before examples.
        self.shelf.cards.sort_by_key(|listed| listed.season);
        let cards = &self.shelf.cards;
        let listed = |key: &CardKey| cards.iter().any(|listed| listed.key == *key);
        self.shown.cards.keep_only(listed);
        self.state.recipes.ticked.retain(listed);
    }

    /// Opens a copy of an example; no file holds it.
    pub(in crate::window) fn open_example(&mut self, place: usize) {
        if let Some(example) = self.shelf.examples.get(place) {
            self.take_over(example.clone(), None, None);
            self.state.view = View::Mix;
        }
    }

    /// The title of a kept recipe, by its file.
    fn title_of(&self, path: &Path) -> &str {
        let all = self.shelf.library.recipes.iter();
        let found = all
            .chain(&self.shelf.bin.recipes)
            .find(|it| it.path == path);
        found.map_or("", |recipe| &recipe.title)
    }

    /// A recipe as it is in its file, or an example.
    fn recipe_of(&self, key: &CardKey) -> Result<Option<Project>, FileError> {
        match key {
            CardKey::Example(place) => Ok(self.shelf.examples.get(*place).cloned()),
            CardKey::Kept(path, _) => {
                file::read(path, &self.stock.built_in).map(|opened| Some(opened.project))
            }
        }
    }

    fn start_again(&mut self, key: &CardKey, ctx: &egui::Context) {
        match self.recipe_of(key) {
            Ok(Some(kept)) => {
                let (mut next, built) = kept.again(self.now.date());
                next.title = words::title_of_year(&kept.title, built);
                let read = WasRead::of(&kept.diary);
                let units = self.state.settings.units;
                next.notes = words::notes_for_next(&kept.notes, read.as_ref(), units);
                self.guarded(Next::Begin(Box::new(next)), ctx);
            }
            Ok(None) => {}
            Err(problem) => self.refuse(crate::text::error::NOT_OPENED, &problem),
        }
    }

    /// What was asked for with the folders, or why it was refused; then the folders are listed anew.
    fn with_folders<T>(
        &mut self,
        deed: impl FnOnce(&mut Self, &Folders) -> Result<T, FileError>,
    ) -> Option<T> {
        let folders = self.store.folders.clone()?;
        let done = deed(self, &folders);
        self.list_recipes();
        match done {
            Ok(done) => Some(done),
            Err(problem) => {
                self.refuse(RECIPE_NOT_CHANGED, &problem);
                None
            }
        }
    }

    fn copy_recipe(&mut self, path: &Path) {
        let title = words::copy_of(self.title_of(path));
        let copied = self.with_folders(|bench, folders| {
            keeping::duplicate(folders, path, &title, &bench.stock.built_in)
        });
        if copied.is_some() {
            self.tell(Notice::done(words::copied(&title)));
        }
    }

    fn rename_recipe(&mut self) {
        let Some(Renaming { path, title, .. }) = self.state.recipes.renaming.take() else {
            return;
        };
        let title = title.trim().to_owned();
        let renamed =
            self.with_folders(|bench, _| keeping::rename(&path, &title, &bench.stock.built_in));
        if let Some(renamed) = renamed {
            self.follow_renamed(&path, renamed);
            self.tell(Notice::done(words::renamed(&title)));
        }
    }

    /// Gives the open recipe its new title and file, if it is the one that was renamed. Unsaved changes stay so.
    fn follow_renamed(&mut self, was: &Path, renamed: Renamed) {
        if self.state.settings.recent.iter().any(|path| path == was) {
            self.state.settings.forget(was);
            self.state.settings.remember(&renamed.path);
        }
        if self.store.path.as_deref() != Some(was) {
            return;
        }
        self.store.path = Some(renamed.path);
        // What someone else wrote meanwhile is still asked about on saving.
        if self.store.stamp.as_ref() == Some(&renamed.before) {
            self.store.stamp = Some(renamed.stamp);
        }
        self.project.title.clone_from(&renamed.project.title);
        if let Some(saved) = &mut self.store.saved {
            saved.title = renamed.project.title;
        }
        self.record_or_revert(words::RENAMED);
    }

    fn put_away(&mut self, path: &Path) {
        let title = self.title_of(path).to_owned();
        let open = self.store.path.as_deref() == Some(path);
        if self
            .with_folders(|_, folders| keeping::put_away(folders, path))
            .is_none()
        {
            return;
        }
        self.state.settings.forget(path);
        let told = if open {
            // It stays on the table, and no file holds it: closing asks.
            (self.store.path, self.store.stamp, self.store.saved) = (None, None, None);
            words::put_away_open(&title)
        } else {
            words::put_away(&title)
        };
        self.tell(Notice::done(told));
    }

    fn bring_back(&mut self, path: &Path) {
        let title = self.title_of(path).to_owned();
        let season = self.binned(path).map(|recipe| recipe.season);
        let back = self.with_folders(|_, folders| keeping::bring_back(folders, path));
        if let (Some(_), Some(season)) = (back, season) {
            self.tell(Notice::done(words::brought_back(&title, season)));
        }
    }

    fn binned(&self, path: &Path) -> Option<&Recipe> {
        let Library { recipes, .. } = &self.shelf.bin;
        recipes.iter().find(|recipe| recipe.path == path)
    }

    /// Ticks a recipe or no longer; of two that are ticked already the first goes.
    fn tick(&mut self, key: CardKey) {
        let ticked = &mut self.state.recipes.ticked;
        if let Some(place) = ticked.iter().position(|other| *other == key) {
            ticked.remove(place);
            return;
        }
        if ticked.len() >= 2 {
            ticked.remove(0);
        }
        ticked.push(key);
    }

    fn source_of(&self, key: &CardKey) -> Option<Source> {
        match key {
            CardKey::Kept(path, _) => Some(Source::File(PathBuf::clone(path))),
            CardKey::Example(place) => {
                let example = self.shelf.examples.get(*place)?;
                Some(Source::Given(Box::new(example.clone())))
            }
        }
    }

    fn compare(&mut self, ctx: &egui::Context) {
        let ticked = self.state.recipes.ticked.clone();
        let sources: Vec<Source> = ticked
            .iter()
            .filter_map(|key| self.source_of(key))
            .collect();
        let Ok(both) = <[Source; 2]>::try_from(sources) else {
            return;
        };
        self.shown.compared = ComparedShown {
            busy: true,
            ..ComparedShown::default()
        };
        self.state.recipes.page = RecipesPage::Compared;
        let waking = ctx.clone();
        let wake = move || waking.request_repaint();
        if let Err(problem) = self.jobs.comparing.start(both, &self.stock.built_in, wake) {
            self.shown.compared.sides[0] = Some(Err(no_thread(&problem)));
        }
    }

    /// Once a frame: takes what was calculated of recipes, and asks for the cards that are seen.
    pub(in crate::window) fn tend_recipes(&mut self, ctx: &egui::Context) {
        self.take_compared(ctx);
        let missing = std::mem::take(&mut self.shown.cards.missing);
        if !self.refines || self.state.view != View::Seasons {
            self.jobs.cards.call_off();
            return;
        }
        let wanted: Vec<(CardKey, Source)> = missing
            .into_iter()
            .filter_map(|key| Some((key.clone(), self.source_of(&key)?)))
            .collect();
        let asked: Vec<CardKey> = wanted.iter().map(|(key, _)| key.clone()).collect();
        let waking = ctx.clone();
        let wake = move || waking.request_repaint();
        match self.jobs.cards.tend(wanted, &self.stock.built_in, wake) {
            Ok(found) => {
                for (key, answer) in found {
                    let shown = answer.map(|calculated| CardShown::of(&calculated));
                    self.shown.cards.take(key, shown);
                    ctx.request_repaint();
                }
            }
            Err(problem) => {
                for key in asked {
                    self.shown.cards.take(key, Err(no_thread(&problem)));
                }
            }
        }
    }

    fn take_compared(&mut self, ctx: &egui::Context) {
        for told in self.jobs.comparing.poll() {
            let (place, answer) = match told {
                Told::News((place, answer)) => (place, answer),
                Told::Broken(cause) => (0, Err(cause)),
                Told::Done => {
                    self.shown.compared.busy = false;
                    ctx.request_repaint();
                    continue;
                }
            };
            if let Some(side) = self.shown.compared.sides.get_mut(place) {
                *side = Some(answer.map(ComparedSide::of));
            }
            ctx.request_repaint();
        }
    }
}
