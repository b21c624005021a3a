#include "contact/live_walls.h"

#include <box2d/box2d.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

namespace offsquare::contact {
namespace {

constexpr double units = 100.0;                 ///< in a millimetre
constexpr double force_units = 1000.0 * units;  ///< in a newton, with kg and s
constexpr double tip_mm = 2.0;                  ///< radius of the circle that stands for a sample of a runner's face
constexpr double edge_mm = 3.0;  ///< half length of the edge that stands for the wall there: more than a tip is shifted
                                 ///< by the yaw, runner distance times yaw
/// Box2D lets shapes rest where their skins overlap by the slop; so much farther out must a wall stand.
constexpr double skin_mm = (b2_polygonRadius - b2_linearSlop) / units;
/// Nearer than this a contact holds the tip; farther off, the tip may come this far beyond its wall in one step.
constexpr double near_mm = 1e-4;
constexpr double beyond_mm = 1e-3;
/// Walls of both slots that are as near as this: which of them holds the sled would be chance.
constexpr double alike_mm = 1e-4;
constexpr double kept_off_mm = 1.5e-4;  ///< more than skin, slop and rounding together
constexpr double far_mm = 10.0;         ///< farther than any play
constexpr int speed_rounds = 8;
constexpr int place_rounds = 3;  ///< ten of them chatter

float to_units(double mm) { return static_cast<float>(mm * units); }

/// Of each row the nearest tips are shown to Box2D; two of a row touch at most, but at the moment when one hands over
/// to the next.
constexpr std::size_t shown = 4;

/// One sample of one row.
struct Tip {
    double side = 1.0;        ///< +1: wall on the right
    double wall_x = 0.0;      ///< in T [mm]
    double wall_speed = 0.0;  ///< [mm/s]
    double face_x = 0.0;      ///< of the runner, in S
    double y = 0.0;           ///< in S, from the base's middle
    double gap = 0.0;         ///< between face and wall [mm]
    double closing = 0.0;     ///< by the sled's own motion, without the wall's [mm/s]
    double force = 0.0;       ///< [N]
    bool on_table = false;    ///< the place of the runner is in its slot; all others touch nothing
    bool has_peg = false;
};

/// A circle on the sled and an edge that stands for the wall there. They meet each other and nothing else, and stand
/// for one tip after another.
struct Peg {
    b2Body* wall = nullptr;
    b2CircleShape* circle = nullptr;
    Tip* tip = nullptr;
    bool fresh = false;  ///< stands for another tip than in the last step: its old force counts no more
};

std::uintptr_t tag(std::size_t i) { return i + 1; }

class OwnWall : public b2ContactFilter {
public:
    bool ShouldCollide(b2Fixture* a, b2Fixture* b) override {
        return a->GetUserData().pointer == b->GetUserData().pointer && a->GetBody() != b->GetBody();
    }
};

class Belts : public b2ContactListener {
public:
    explicit Belts(std::vector<Peg>& pegs) : pegs_(pegs) {}
    double speed = 0.0;     ///< of the sled along the slots [mm/s]
    double per_step = 0.0;  ///< newtons for a unit of impulse
    float most_kept =
        0.0F;  ///< impulse; Box2D begins with the forces of the last step, and a blow's would throw the sled

    /// Box2D drives the tip's speed along (n.y, -n.x) to the belt's, n away from the wall: that is +y on the right.
    void PreSolve(b2Contact* contact, const b2Manifold*) override {
        const Peg& peg = peg_of(contact);
        contact->SetTangentSpeed(to_units(-peg.tip->side * speed));
        b2ManifoldPoint& kept = contact->GetManifold()->points[0];
        const float share = peg.fresh ? 0.0F : kept.normalImpulse > most_kept ? most_kept / kept.normalImpulse : 1.0F;
        kept.normalImpulse *= share;
        kept.tangentImpulse *= share;
    }
    void PostSolve(b2Contact* contact, const b2ContactImpulse* impulse) override {
        peg_of(contact).tip->force = static_cast<double>(impulse->normalImpulses[0]) * per_step;
    }

private:
    Peg& peg_of(b2Contact* contact) { return pegs_[contact->GetFixtureA()->GetUserData().pointer - 1]; }
    std::vector<Peg>& pegs_;
};

}  // namespace

struct LiveWalls::World {
    World(const Tracks& tracks, double middle, double mass, double inertia, double mu, const Across& start)
        : k(tracks),
          middle_y(middle),
          per_row(k.straight ? 2 : Samples::most),
          shown_in_row(std::min(shown, per_row)),
          tips(rows * per_row),
          pegs(rows * shown_in_row),
          belts(pegs),
          world({0.0F, 0.0F}),
          across(start) {
        world.SetContactFilter(&own_wall);
        world.SetContactListener(&belts);
        world.SetAllowSleeping(false);
        world.SetContinuousPhysics(false);
        b2BodyDef def;
        def.type = b2_dynamicBody;
        def.position.Set(to_units(start.x_mm), 0.0F);
        def.angle = static_cast<float>(start.yaw_rad);
        sled = world.CreateBody(&def);
        for (std::size_t i = 0; i < pegs.size(); ++i) make(i, static_cast<float>(mu));
        const b2MassData heft{static_cast<float>(mass), {0.0F, 0.0F}, static_cast<float>(inertia * units * units)};
        sled->SetMassData(&heft);
    }

    void make(std::size_t i, float mu) {
        b2FixtureDef fixture;
        fixture.friction = mu;
        fixture.density = 0.0F;
        fixture.userData.pointer = tag(i);
        b2CircleShape circle;
        circle.m_radius = to_units(tip_mm);
        fixture.shape = &circle;
        pegs[i].circle = static_cast<b2CircleShape*>(sled->CreateFixture(&fixture)->GetShape());
        b2BodyDef def;
        def.type = b2_kinematicBody;
        pegs[i].wall = world.CreateBody(&def);
        b2EdgeShape edge;
        edge.SetTwoSided({0.0F, to_units(-edge_mm)}, {0.0F, to_units(edge_mm)});
        fixture.shape = &edge;
        pegs[i].wall->CreateFixture(&fixture);
    }

    void look_at_tips(const Look& look, double dt) {
        for (std::size_t row = 0; row < rows; ++row) {
            const bool left = row < 2;
            const Track& track = left ? k.left : k.right;
            const Samples::List& off = left ? look.now.left_off : look.now.right_off;
            const Samples::List& off_next = left ? look.next.left_off : look.next.right_off;
            const auto first = static_cast<std::size_t>(look.now.first);
            for (std::size_t place = 0; place < per_row; ++place) tips[row * per_row + place].on_table = false;
            for (std::size_t i = 0; i < look.now.count(); ++i) {
                Tip& tip = tips[row * per_row + first + i];
                const double y = look.now_middle_mm + look.now.y[i];
                const double y_next = look.next_middle_mm + look.next.y[i];
                tip.side = row % 2 == 0 ? -1.0 : 1.0;
                tip.face_x = track.x_runner + (left ? look.now.left_bend[i] : 0.0) + tip.side * track.half_runner;
                tip.wall_x = tip.face_x + off[i] + tip.side * track.half_play;
                tip.y = y - middle_y;
                // A sample that moves along the sled, where a runner leaves its slot, meets the wall at another place:
                // to the turned sled the wall seems to come nearer.
                tip.wall_speed = (off_next[i] - off[i] + across.yaw_rad * (y_next - y)) / dt;
                tip.on_table = true;
                near_what(tip);
            }
            for (std::size_t place = 0; place < per_row; ++place) take_away(tips[row * per_row + place]);
        }
    }

    /// No force as yet in this step; and from a place that is off the table the wall is far.
    static void take_away(Tip& tip) {
        tip.force = 0.0;
        if (tip.on_table) return;
        tip.gap = far_mm;
        tip.closing = tip.wall_speed = 0.0;
        tip.wall_x = tip.face_x + tip.side * far_mm;
    }

    /// Where runners meet walls on the same side alike, the one at the outer wall of its slot is kept off. Turned
    /// either way, the sled then bears on two inner walls, the middle line between these is that of both runners, and
    /// it jams where it does if all four share.
    void keep_off_outer() {
        for (std::size_t i = 0; i < per_row; ++i) {
            keep_off(tips[i], tips[2 * per_row + i]);
            keep_off(tips[3 * per_row + i], tips[per_row + i]);
        }
    }
    static void keep_off(Tip& outer, const Tip& inner) {
        if (!outer.on_table || std::abs(outer.gap - inner.gap) > alike_mm) return;
        const double more = inner.gap + kept_off_mm - outer.gap;
        outer.wall_x += outer.side * more;
        outer.gap += more;
    }

    void near_what(Tip& tip) const {
        const double turned = across.yaw_rad;
        const double c = std::sqrt(1.0 - turned * turned);
        tip.gap = tip.side * (tip.wall_x - across.x_mm - (tip.face_x * c - tip.y * turned));
        tip.closing = tip.side * (across.speed_mm_s - across.turning_rad_s * (tip.y * c + tip.face_x * turned));
    }

    /// The pegs of a row stand for the tips that will be nearest; who has a peg keeps it.
    void give_pegs(std::size_t row, double dt) {
        std::array<Tip*, Samples::most> order{};
        for (std::size_t i = 0; i < per_row; ++i) order[i] = &tips[row * per_row + i];
        const auto end = order.begin() + static_cast<std::ptrdiff_t>(per_row);
        const auto nearest = order.begin() + static_cast<std::ptrdiff_t>(shown_in_row);
        std::partial_sort(order.begin(), nearest, end, [&](const Tip* a, const Tip* b) {
            return std::pair(a->gap - a->closing * dt, a) < std::pair(b->gap - b->closing * dt, b);
        });
        for (auto at = nearest; at != end; ++at) (*at)->has_peg = false;
        auto next = order.begin();
        for (std::size_t i = row * shown_in_row; i < (row + 1) * shown_in_row; ++i) {
            Peg& peg = pegs[i];
            peg.fresh = !peg.tip || !peg.tip->has_peg;
            if (!peg.fresh) continue;
            while ((*next)->has_peg) ++next;
            peg.tip = *next;
            peg.tip->has_peg = true;
        }
    }

    void put_pegs() {
        for (Peg& peg : pegs) {
            const Tip& tip = *peg.tip;
            peg.circle->m_p.Set(to_units(tip.face_x - tip.side * tip_mm), to_units(tip.y));
            peg.wall->SetTransform({to_units(tip.wall_x + tip.side * skin_mm), to_units(tip.y)}, 0.0F);
            peg.wall->SetLinearVelocity({to_units(tip.wall_speed), 0.0F});
        }
        sled->SetTransform({sled->GetPosition().x, 0.0F}, sled->GetAngle());
    }

    /// Box2D sees a wall when a tip has passed it. Slowed so that each tip comes to its wall and hardly beyond, the
    /// sled does not dig in; the impact takes its speed there anyhow.
    double share_of_speed(double dt) const {
        double share = 1.0;
        for (const Tip& tip : tips) {
            if (tip.gap <= near_mm || tip.closing <= 0.0) continue;
            const double allowed = (tip.gap + beyond_mm) / dt + tip.side * tip.wall_speed;
            if (tip.closing > allowed) share = std::min(share, std::max(0.0, allowed / tip.closing));
        }
        return share;
    }

    void load_sled(const Load& load, double share, double dt) {
        sled->SetLinearVelocity({to_units(share * across.speed_mm_s), 0.0F});
        sled->SetAngularVelocity(static_cast<float>(share * across.turning_rad_s));
        sled->SetLinearDamping(static_cast<float>(load.damp_across));
        sled->SetAngularDamping(static_cast<float>(load.damp_turning));
        // Box2D damps what a force has just added too; it is meant to damp the motion across alone.
        sled->ApplyForceToCenter({0.0F, static_cast<float>(load.along_n * force_units * (1.0 + dt * load.damp_across))},
                                 true);
        sled->ApplyTorque(static_cast<float>(load.moment_nmm * units * force_units * (1.0 + dt * load.damp_turning)),
                          true);
    }

    double step(const Look& look, double speed, const Load& load, double dt) {
        look_at_tips(look, dt);
        keep_off_outer();
        for (std::size_t row = 0; row < rows; ++row) give_pegs(row, dt);
        put_pegs();
        load_sled(load, share_of_speed(dt), dt);
        belts.speed = speed;
        belts.most_kept = static_cast<float>(load.most_wall_n * last_dt * force_units);
        last_dt = dt;
        belts.per_step = 1.0 / (dt * force_units);
        world.Step(static_cast<float>(dt), speed_rounds, place_rounds);
        const b2Vec2 v = sled->GetLinearVelocity();
        across = {static_cast<double>(sled->GetPosition().x) / units, static_cast<double>(sled->GetAngle()),
                  static_cast<double>(v.x) / units, static_cast<double>(sled->GetAngularVelocity())};
        return static_cast<double>(v.y) / units;
    }

    const Tracks& k;
    double middle_y;
    std::size_t per_row;
    std::size_t shown_in_row;
    std::vector<Tip> tips;
    std::vector<Peg> pegs;
    OwnWall own_wall;
    Belts belts;
    b2World world;
    b2Body* sled = nullptr;
    double last_dt = 0.0;
    Across across;
};

LiveWalls::LiveWalls(const Tracks& tracks, double middle_y_mm, double mass_kg, double inertia_kgmm2, double mu,
                     const Across& start)
    : world_(std::make_unique<World>(tracks, middle_y_mm, mass_kg, inertia_kgmm2, mu, start)) {}
LiveWalls::~LiveWalls() = default;
LiveWalls::LiveWalls(LiveWalls&&) noexcept = default;
LiveWalls& LiveWalls::operator=(LiveWalls&&) noexcept = default;

double LiveWalls::step(const Look& look, double speed_mm_s, const Load& load, double dt_s) {
    return world_->step(look, speed_mm_s, load, dt_s);
}
const Across& LiveWalls::across() const { return world_->across; }
double LiveWalls::force_n(Row row, std::size_t place) const {
    return world_->tips[static_cast<std::size_t>(row) * world_->per_row + place].force;
}

}  // namespace offsquare::contact
