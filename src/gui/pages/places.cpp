#include "gui/pages/places.h"

#include <algorithm>
#include <utility>

#include "gui/keep/files.h"
#include "saws/so_far.h"
#include "scenario/readings.h"

namespace offsquare::gui {
namespace {

using lesson::Became;

bool touched(const Bench& bench) { return !bench.history().record().empty(); }

/// The case on the bench, as it shipped.
const lesson::Case* case_on(const Bench& bench) {
    return bench.of_a_real_saw() ? nullptr : lesson::case_of(bench.history().start());
}

Place place_now(const Bench& bench, const PageState& state) {
    return {state.notebook.hunt.open, state.notebook.hunt.page, state.push.pushing.open, bench.view.for_class,
            bench.view.reveal,        bench.view.looking_at,    state.start.door,        state.start.truth_seen};
}

void stand_at(Bench& bench, PageState& state, const Place& place) {
    state.notebook.hunt.open = place.notebook;
    state.notebook.hunt.page = place.leaf;
    state.notebook.hunt.typing = {};
    state.push.pushing.open = place.push;
    bench.view.for_class = place.for_class;
    bench.view.reveal = place.reveal;
    bench.view.looking_at = place.looking_at;
    bench.view.playing = false;
    state.start.door = place.door;
    state.start.truth_seen = place.truth_seen;
    state.start.noted_changes = 0;
    state.start.stands = true;
    state.start.open = state.start.from_my_saw = state.my_saw.saw.open = false;
}

/// Whether a hunt is on, as far as what was done tells: then the work goes on in the notebook.
bool hunts(const Bench& bench) {
    if (bench.of_a_real_saw()) return true;
    const std::vector<session::Action> done = bench.history().actions();
    return std::any_of(done.begin(), done.end(), [](const session::Action& a) {
        return std::holds_alternative<session::MakeCheck>(a) || std::holds_alternative<session::Repair>(a) ||
               std::holds_alternative<session::TypeReadings>(a);
    });
}

Place usual_place(const Bench& bench) {
    Place place;
    place.notebook = hunts(bench);
    if (place.notebook) place.leaf = session::Leaf::suspects;
    return place;
}

/// What stands on the bench is kept before something else takes its place: on the disk, and in this window with its
/// place.
void put_aside(Bench& bench, PageState& state) {
    Unsaved* unsaved = state.files.unsaved;
    if (unsaved == nullptr) return;
    unsaved->write(bench);
    if (const auto id = unsaved->set_aside()) state.start.places[*id] = place_now(bench, state);
}

void put_on(Bench& bench, PageState& state, scenario::Scenario scenario, const Place& place) {
    put_aside(bench, state);
    bench.open(std::move(scenario));
    bench.said_for = 0.0;
    stand_at(bench, state, place);
}

void take_up(Bench& bench, PageState& state, std::uint64_t id) {
    const Place before = place_now(bench, state);
    std::optional<std::uint64_t> aside;
    const auto done = state.files.unsaved->take_up(bench, id, &aside);
    if (aside) state.start.places[*aside] = before;
    if (!done) return bench.say(done.error().message, true);
    const auto known = state.start.places.find(id);
    stand_at(bench, state, known != state.start.places.end() ? known->second : usual_place(bench));
    state.start.places.erase(id);
    bench.say("Here you were. It is still to be saved.");
}

/// The next case to practise on: one that was begun, else the first that is not proved, else the first.
const lesson::Case& case_to_practise(const StartState& state) {
    const auto all = lesson::cases();
    for (const Became wanted : {Became::failed, Became::open, Became::fresh}) {
        for (const lesson::Case& c : all) {
            if (state.results.of(c.name).became == wanted) return c;
        }
    }
    return all.front();
}

bool came_by(const PageState& state, std::initializer_list<Doorway> doors) {
    return state.start.stands && std::find(doors.begin(), doors.end(), state.start.door) != doors.end();
}

/// The job on the built-in saw; the one that is under way goes on.
void open_job(Bench& bench, PageState& state, Doorway door) {
    Place place;
    place.door = door;
    place.for_class = door == Doorway::show_class;
    const bool under_way = came_by(state, {Doorway::learn, Doorway::show_class}) && !bench.seen().proved;
    if (under_way) {
        place.truth_seen = state.start.truth_seen;
        return stand_at(bench, state, place);
    }
    put_on(bench, state, scenario::built_in(), place);
}

void open_what_if(Bench& bench, PageState& state) {
    Place place;
    place.door = Doorway::what_if;
    place.reveal = true;
    place.truth_seen = true;
    place.looking_at = session::Stage::set_up;
    if (came_by(state, {Doorway::what_if})) return stand_at(bench, state, place);
    put_on(bench, state, scenario::built_in(), place);
    state.set_up.group = "faults";
}

/// What is not a case, though it stands on the saw of one, is called as its door is.
lesson::SoFar by_its_door(lesson::SoFar so_far, std::optional<Doorway> door) {
    if (door && door != Doorway::practise && door != Doorway::my_saw) so_far.called = words_of(*door).title;
    return so_far;
}

std::optional<Doorway> door_of(const PageState& state, std::uint64_t id) {
    const auto known = state.start.places.find(id);
    return known == state.start.places.end() ? std::nullopt : known->second.door;
}

/// Work on this case that waits; empty: none.
std::optional<std::uint64_t> left_of(const PageState& state, const lesson::Case& chosen) {
    if (state.files.unsaved == nullptr) return std::nullopt;
    for (const LeftWork& work : state.files.unsaved->left()) {
        const bool done = work.so_far.done.ends_with("proved square");
        const std::optional<Doorway> door = door_of(state, work.id);
        const bool of_a_hunt = !door || door == Doorway::practise;
        if (work.complaint == chosen.scenario.complaint && !done && of_a_hunt) return work.id;
    }
    return std::nullopt;
}

/// The one that was written last first: it is the one that is open.
std::vector<GoOnLine> sleds_of(const MySaw& saw) {
    std::vector<GoOnLine> lines;
    for (const saws::Listed& one : saw.listed()) {
        const auto sled = one.trouble.empty() ? saw.look_at(one.name) : std::nullopt;
        if (!sled || sled->entries.empty()) continue;
        const GoOnLine line{{OwnSled{one.name}}, {"My saw: " + one.name, saws::so_far(*sled, saw.today())}, "", ""};
        const bool open = saw.has_file() && one.name == saw.sled().name;
        lines.insert(open ? lines.begin() : lines.end(), line);
    }
    return lines;
}

/// Looked up when the first screen opens, and not in every frame.
void look_up(PageState& state) {
    StartState& start = state.start;
    const FileState& files = state.files;
    if (start.files_known) return;
    start.files_known = true;
    start.sleds = sleds_of(state.my_saw.saw);
    start.files.clear();
    if (files.keep == nullptr) return;
    for (const std::filesystem::path& path : files.keep->recent()) {
        if (auto so_far = so_far_in(path)) start.files.push_back({{path}, std::move(*so_far), "", ""});
    }
}

}  // namespace

void lead_back(Bench& bench, PageState& state) {
    bench.view.playing = false;
    bench.said_for = 0.0;
    state.push.pushing.holds = false;
    state.push.pushing.speed_mm_s = 0.0;
    state.start.open = state.start.was_open = true;
    state.start.from_my_saw = std::exchange(state.my_saw.saw.open, false);
    state.start.files_known = false;
}

void go_on(Bench& bench, PageState& state) {
    if (state.start.stands || touched(bench)) state.start.open = state.start.from_my_saw = false;
}

void open_case(Bench& bench, PageState& state, const lesson::Case& chosen) {
    const bool on_bench = state.start.stands && case_on(bench) == &chosen && state.start.door == Doorway::practise;
    if (on_bench && session::proof_of(bench.seen()) != session::Proved::passed) return go_on(bench, state);
    if (const auto id = left_of(state, chosen)) return take_up(bench, state, *id);
    Place place;
    place.notebook = true;
    place.door = Doorway::practise;
    put_on(bench, state, chosen.scenario, place);
}

void start_again(Bench& bench, PageState& state) {
    put_aside(bench, state);
    bench.start_again();
}

void open_next_case(Bench& bench, PageState& state) { open_case(bench, state, case_to_practise(state.start)); }

void open_my_saw(Bench& bench, PageState& state) {
    bench.view.playing = false;
    bench.said_for = 0.0;
    state.start.open = state.start.from_my_saw = false;
    open_my_saw(state, true);
}

void practise_on(Bench& bench, PageState& state, scenario::Scenario scenario) {
    Place place;
    place.notebook = true;
    place.door = Doorway::practise;
    put_on(bench, state, std::move(scenario), place);
    bench.say("A saw like yours, with an error as large as yours may be. Find out what is wrong with it.");
}

void open_door(Bench& bench, PageState& state, Doorway door) {
    switch (door) {
        case Doorway::my_saw: return open_my_saw(bench, state);
        case Doorway::learn:
        case Doorway::show_class: return open_job(bench, state, door);
        case Doorway::practise: return open_case(bench, state, case_to_practise(state.start));
        case Doorway::what_if: return open_what_if(bench, state);
    }
}

std::vector<GoOnLine> lines_to_go_on(const Bench& bench, PageState& state) {
    std::vector<GoOnLine> lines;
    if (touched(bench)) lines.push_back({{}, by_its_door(lesson::so_far(bench.history()), state.start.door), "", ""});
    look_up(state);
    const std::vector<GoOnLine>& sleds = state.start.sleds;
    if (!sleds.empty()) lines.push_back(sleds.front());
    if (state.files.unsaved != nullptr) {
        for (const LeftWork& work : state.files.unsaved->left())
            lines.push_back({{work.id}, by_its_door(work.so_far, door_of(state, work.id)), work.when, work.complaint});
    }
    for (std::size_t i = 1; i < sleds.size(); ++i) lines.push_back(sleds[i]);
    for (const GoOnLine& file : state.start.files) {
        const bool on_bench = touched(bench) && !bench.unsaved() &&
                              std::get<std::filesystem::path>(file.with.what) == state.files.on_bench;
        if (!on_bench) lines.push_back(file);
    }
    return lines;
}

void file_has_come(Bench& bench, PageState& state) {
    if (const auto aside = std::exchange(state.files.aside, std::nullopt))
        state.start.places[*aside] = place_now(bench, state);
    const bool from_start = state.start.open;
    Place place = from_start ? usual_place(bench) : place_now(bench, state);
    place.for_class = false;
    place.door.reset();
    place.truth_seen = place.reveal;
    stand_at(bench, state, place);
}

void follow(Bench& bench, PageState& state, const StartWish& wish) {
    if (const auto* door = std::get_if<Doorway>(&wish)) return open_door(bench, state, *door);
    if (const auto* chosen = std::get_if<ChosenCase>(&wish)) {
        if (const lesson::Case* found = lesson::find_case(chosen->name)) open_case(bench, state, *found);
        return;
    }
    if (std::holds_alternative<OpenAFile>(wish)) return open_file(state.files);
    if (const auto* thrown = std::get_if<ThrowAway>(&wish)) return state.files.unsaved->throw_away(thrown->id);
    const auto* with = std::get_if<GoOnWith>(&wish);
    if (with == nullptr) return;
    if (const auto* id = std::get_if<std::uint64_t>(&with->what)) return take_up(bench, state, *id);
    if (const auto* own = std::get_if<OwnSled>(&with->what)) {
        if (const auto opened = state.my_saw.saw.switch_to(own->name); !opened)
            return bench.say(opened.error().message, true);
        return open_my_saw(bench, state);
    }
    if (const auto* path = std::get_if<std::filesystem::path>(&with->what))
        return open_chosen(bench, state.files, *path);
    go_on(bench, state);
}

void note_result(const Bench& bench, StartState& state) {
    state.results.settle();
    if (!state.open) state.truth_seen = state.truth_seen || bench.view.reveal;
    if (state.noted_changes == bench.changes() || state.truth_seen) return;
    state.noted_changes = bench.changes();
    const lesson::Case* on_bench = case_on(bench);
    // The job of the doors is a lesson on the saw of one of the cases, and no case.
    const bool lesson = state.door && *state.door != Doorway::practise;
    if (on_bench != nullptr && !lesson && lesson::is_fair(bench.history()))
        state.results.note(on_bench->name, lesson::result_of(bench.seen()));
}

}  // namespace offsquare::gui
