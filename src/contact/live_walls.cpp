#include "contact/live_walls.h"

#include <box2d/box2d.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace offsquare::contact {
namespace {

constexpr double units = 100.0;                   ///< in a millimetre
constexpr double force_units = 1000.0 * units;    ///< in a newton, with kg and s
constexpr double tip_mm = 2.0;                    ///< radius of the circle that stands for a sample of a runner's face
constexpr double edge_mm = 3.0;                   ///< half length of the edge that stands for the wall there: more than a tip is shifted by the yaw, runner distance times yaw
/// Box2D lets shapes rest where their skins overlap by the slop; so much farther out must a wall stand.
constexpr double skin_mm = (b2_polygonRadius - b2_linearSlop) / units;
/// Nearer than this a contact holds the tip; farther off, the tip may come this far beyond its wall in one step.
constexpr double near_mm = 1e-4;
constexpr double beyond_mm = 1e-3;
constexpr int speed_rounds = 8;
constexpr int place_rounds = 3;   ///< ten of them chatter

float to_units(double mm) { return static_cast<float>(mm * units); }

/// One sample of one row.
struct Tip {
    b2Body* wall = nullptr;
    b2CircleShape* circle = nullptr;
    double side = 1.0;             ///< +1: wall on the right
    double wall_x = 0.0;           ///< in T [mm]
    double wall_speed = 0.0;       ///< [mm/s]
    double face_x = 0.0;           ///< of the runner, in S
    double y = 0.0;                ///< in S, from the base's middle
    double force = 0.0;            ///< [N]
};

std::uintptr_t tag(std::size_t i) { return i + 1; }

/// Each tip meets its own wall and nothing else.
class OwnWall : public b2ContactFilter {
public:
    bool ShouldCollide(b2Fixture* a, b2Fixture* b) override { return a->GetUserData().pointer == b->GetUserData().pointer && a->GetBody() != b->GetBody(); }
};

class Belts : public b2ContactListener {
public:
    explicit Belts(std::vector<Tip>& tips) : tips_(tips) {}
    double speed = 0.0;   ///< of the sled along the slots [mm/s]
    double per_step = 0.0;

    /// Box2D drives the tip's speed along (n.y, -n.x) to the belt's, n away from the wall: that is +y on the right.
    void PreSolve(b2Contact* contact, const b2Manifold*) override { contact->SetTangentSpeed(to_units(-tip_of(contact).side * speed)); }
    void PostSolve(b2Contact* contact, const b2ContactImpulse* impulse) override { tip_of(contact).force = impulse->normalImpulses[0] * per_step; }

private:
    Tip& tip_of(b2Contact* contact) { return tips_[contact->GetFixtureA()->GetUserData().pointer - 1]; }
    std::vector<Tip>& tips_;
};

}  // namespace

struct LiveWalls::World {
    World(const Tracks& tracks, double middle, double mass, double inertia, double mu, const Across& start)
        : k(tracks), middle_y(middle), per_row(k.straight ? 2 : Samples::most), tips(rows * per_row), belts(tips), world({0.0F, 0.0F}), across(start) {
        world.SetContactFilter(&own_wall);
        world.SetContactListener(&belts);
        world.SetAllowSleeping(false);
        world.SetContinuousPhysics(false);
        b2BodyDef def;
        def.type = b2_dynamicBody;
        def.position.Set(to_units(start.x_mm), 0.0F);
        def.angle = static_cast<float>(start.yaw_rad);
        sled = world.CreateBody(&def);
        for (std::size_t i = 0; i < tips.size(); ++i) make(i, static_cast<float>(mu));
        const b2MassData heft{static_cast<float>(mass), {0.0F, 0.0F}, static_cast<float>(inertia * units * units)};
        sled->SetMassData(&heft);
    }

    void make(std::size_t i, float mu) {
        Tip& tip = tips[i];
        tip.side = (i / per_row) % 2 == 0 ? -1.0 : 1.0;
        b2FixtureDef fixture;
        fixture.friction = mu;
        fixture.density = 0.0F;
        fixture.userData.pointer = tag(i);
        b2CircleShape circle;
        circle.m_radius = to_units(tip_mm);
        fixture.shape = &circle;
        tip.circle = static_cast<b2CircleShape*>(sled->CreateFixture(&fixture)->GetShape());
        b2BodyDef def;
        def.type = b2_kinematicBody;
        tip.wall = world.CreateBody(&def);
        b2EdgeShape edge;
        edge.SetTwoSided({0.0F, to_units(-edge_mm)}, {0.0F, to_units(edge_mm)});
        fixture.shape = &edge;
        tip.wall->CreateFixture(&fixture);
    }

    void place(const Look& look, double dt) {
        for (std::size_t row = 0; row < rows; ++row) {
            const bool left = row < 2;
            const Track& track = left ? k.left : k.right;
            const Samples::List& off = left ? look.now.left_off : look.now.right_off;
            const Samples::List& off_next = left ? look.next.left_off : look.next.right_off;
            for (std::size_t i = 0; i < per_row; ++i) {
                Tip& tip = tips[row * per_row + i];
                const double y = look.now_middle_mm + look.now.y[i];
                const double y_next = look.next_middle_mm + look.next.y[i];
                const double runner = left ? look.now.left_runner[i] : look.now.right_runner;
                tip.face_x = runner + tip.side * track.half_runner;
                tip.wall_x = tip.face_x + off[i] + tip.side * track.half_play;
                tip.y = y - middle_y;
                // A sample that moves along the sled, where a runner leaves its slot, meets the wall at another place: to the turned sled the wall seems to come nearer.
                tip.wall_speed = (off_next[i] - off[i] + across.yaw_rad * (y_next - y)) / dt;
                put(tip);
            }
        }
    }

    static void put(Tip& tip) {
        tip.force = 0.0;
        tip.circle->m_p.Set(to_units(tip.face_x - tip.side * tip_mm), to_units(tip.y));
        tip.wall->SetTransform({to_units(tip.wall_x + tip.side * skin_mm), to_units(tip.y)}, 0.0F);
        tip.wall->SetLinearVelocity({to_units(tip.wall_speed), 0.0F});
    }

    /// Box2D sees a wall when a tip has passed it. Slowed so that each tip comes to its wall and hardly beyond, the sled does not dig in; impacts take the rest of its speed anyhow.
    double share_of_speed(double dt) const {
        const double turned = across.yaw_rad;
        const double c = std::sqrt(1.0 - turned * turned);
        double share = 1.0;
        for (const Tip& tip : tips) {
            const double x = tip.face_x * c - tip.y * turned;
            const double gap = tip.side * (tip.wall_x - across.x_mm - x);
            const double own = tip.side * (across.speed_mm_s - across.turning_rad_s * (tip.y * c + tip.face_x * turned));
            if (gap <= near_mm || own <= 0.0) continue;
            const double allowed = (gap + beyond_mm) / dt + tip.side * tip.wall_speed;
            if (own > allowed) share = std::min(share, std::max(0.0, allowed / own));
        }
        return share;
    }

    double step(const Look& look, double speed, const Load& load, double dt) {
        place(look, dt);
        const double share = share_of_speed(dt);
        sled->SetTransform({sled->GetPosition().x, 0.0F}, sled->GetAngle());
        sled->SetLinearVelocity({to_units(share * across.speed_mm_s), 0.0F});
        sled->SetAngularVelocity(static_cast<float>(share * across.turning_rad_s));
        sled->SetLinearDamping(static_cast<float>(load.damp_across));
        sled->SetAngularDamping(static_cast<float>(load.damp_turning));
        // Box2D damps what a force has just added; the damping is meant for the speed across only.
        sled->ApplyForceToCenter({0.0F, static_cast<float>(load.along_n * force_units * (1.0 + dt * load.damp_across))}, true);
        sled->ApplyTorque(static_cast<float>(load.moment_nmm * units * force_units * (1.0 + dt * load.damp_turning)), true);
        belts.speed = speed;
        belts.per_step = 1.0 / (dt * force_units);
        world.Step(static_cast<float>(dt), speed_rounds, place_rounds);
        const b2Vec2 v = sled->GetLinearVelocity();
        across = {sled->GetPosition().x / units, sled->GetAngle(), v.x / units, sled->GetAngularVelocity()};
        return v.y / units;
    }

    const Tracks& k;
    double middle_y;
    std::size_t per_row;
    std::vector<Tip> tips;
    OwnWall own_wall;
    Belts belts;
    b2World world;
    b2Body* sled = nullptr;
    Across across;
};

LiveWalls::LiveWalls(const Tracks& tracks, double middle_y_mm, double mass_kg, double inertia_kgmm2, double mu, const Across& start)
    : world_(std::make_unique<World>(tracks, middle_y_mm, mass_kg, inertia_kgmm2, mu, start)) {}
LiveWalls::~LiveWalls() = default;
LiveWalls::LiveWalls(LiveWalls&&) noexcept = default;
LiveWalls& LiveWalls::operator=(LiveWalls&&) noexcept = default;

double LiveWalls::step(const Look& look, double speed_mm_s, const Load& load, double dt_s) { return world_->step(look, speed_mm_s, load, dt_s); }
const Across& LiveWalls::across() const { return world_->across; }
double LiveWalls::force_n(Row row, std::size_t i) const { return world_->tips[static_cast<std::size_t>(row) * world_->per_row + i].force; }

}  // namespace offsquare::contact
