// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/scene_builder.h"

#include "ui/joints_look.h"
#include "ui/lay_figure.h"
#include "ui/yardstick.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace quoin::ui {

using mesh::Box3;
using mesh::Transform;
using mesh::Vec3;

namespace {

constexpr double leastGapMm = 60;
constexpr double gapShare = 0.18;     ///< of the largest extent: between things in the row
constexpr double explodeShare = 0.28; ///< of the part's size: how far the farthest slider opens the cuts
constexpr double dwarfedShare = 0.3;  ///< of the person's height
constexpr double lostShare = 0.2;     ///< of the bed's
constexpr double planeRimShare = 0.06;
constexpr double glassOpacity = 0.32;
constexpr double faintOpacity = 0.10;
/// Of more planes than this only outlines are shown, save of the chosen one: see-through ones hide each other, and have
/// to be split where they cross to be drawn in their order.
constexpr std::size_t mostFilledPlanes = 8;

constexpr Colour wholeColour{0.80, 0.79, 0.76};
constexpr Colour figureColour{0.66, 0.68, 0.71};
constexpr Colour looseColour{0.34, 0.25, 0.16};
constexpr Colour boughtColour{0.47, 0.50, 0.54};
constexpr Colour planeColour{0.00, 0.45, 0.70};       // Okabe-Ito blue
constexpr Colour chosenPlaneColour{0.84, 0.37, 0.00}; // Okabe-Ito vermillion
constexpr Colour sectionColour{0.84, 0.37, 0.00};
constexpr Colour previewColour{0.80, 0.47, 0.65}; // Okabe-Ito reddish purple
constexpr Colour keepClearColour{0.84, 0.37, 0.00};
constexpr Colour bedColour{0.35, 0.70, 0.90}; // Okabe-Ito sky blue

const DrawMeshPtr& figure()
{
    static const DrawMeshPtr mesh = drawMeshOf(layFigure());
    return mesh;
}

void grow(Box3& box, const Box3& by)
{
    if (by.empty())
        return;
    box.add(by.min);
    box.add(by.max);
}

Box3 placed(const Box3& box, const Transform& t)
{
    Box3 out;
    for (int i = 0; i < 8; ++i)
        out.add(t.point({(i & 1 ? box.max : box.min).x, (i & 2 ? box.max : box.min).y, (i & 4 ? box.max : box.min).z}));
    return out;
}

double scaleOf(const core::PartDesign& part, const ViewState& state)
{
    return part.id == state.part && state.liveScale ? *state.liveScale : part.scale;
}

Box3 boxOf(const core::PartDesign& part, const PartShown& shown, const ViewState& state)
{
    const double scale = scaleOf(part, state);
    const Box3 box = shown.source ? boundsOf(*shown.source->shown.draw) : mesh::bounds(*part.source);
    return {scale * box.min, scale * box.max};
}

/// Builds one scene.
class Builder {
public:
    Builder(const core::Design& design, const std::function<PartShown(int)>& shown, const ViewState& state)
        : m_design(design), m_shown(shown), m_state(state), m_row(rowOf(design, state))
    {
        m_scene.backgroundTop = state.backgroundTop;
        m_scene.backgroundBottom = state.backgroundBottom;
        if (state.dark)
            m_scene.edgeColour = {0.08, 0.09, 0.10};
    }

    BuiltScene build()
    {
        if (m_state.onBed && addOnBed())
            return finished();
        std::size_t i = 0;
        const bool assembled = isAssembled(m_design, m_state);
        for (const core::PartDesign& part : m_design.parts) {
            const Vec3 shift = m_row[i++];
            if (!isShown(part, m_state) || (isIsolated(m_state) && part.id != m_state.part))
                continue;
            if (!assembled) {
                addPart(part, Transform::translation(shift), true);
                continue;
            }
            bool first = true;
            for (Transform place : part.places) {
                for (const std::size_t k : {3u, 7u, 11u})
                    place.m[k] *= scaleOf(part, m_state);
                addPart(part, place, std::exchange(first, false));
            }
        }
        m_out.all = m_out.model;
        // A joint is looked at from near: there they would only stand in the way.
        const bool scale = m_state.step != JobStep::Joint;
        if (m_state.person && scale)
            addFigure();
        if (!m_design.parts.empty() && std::none_of(m_design.parts.begin(), m_design.parts.end(),
                                                    [&](const core::PartDesign& p) { return isShown(p, m_state); }))
            m_out.notes.push_back({{0, 0, 0}, "Every part is hidden: tick one in the list of parts to see it"});
        m_out.first = m_out.model;
        if (m_state.bed && scale && !m_design.beds.empty())
            addBedBeside();
        const Vec3 size = m_out.model.extents();
        if (m_out.model.empty() || std::max({size.x, size.y, size.z}) > dwarfedShare * personHeightMm)
            m_out.first = m_out.all;
        return finished();
    }

private:
    BuiltScene finished()
    {
        if (m_out.selection.empty())
            m_out.selection = m_out.model;
        m_out.scene = std::make_shared<const ViewScene>(std::move(m_scene));
        return std::move(m_out);
    }

    /// @param first  of its copies
    void addPart(const core::PartDesign& part, const Transform& place, bool first)
    {
        const PartShown shown = m_shown(part.id);
        const bool current = part.id == m_state.part;
        const Box3 box = placed(boxOf(part, shown, m_state), place);
        const bool whole = (current && (m_state.painting || m_state.liveScale)) || !fits(part, shown);
        if (whole)
            addWhole(part, shown, place);
        else
            addPieces(part, *shown.view, place, first);
        if (current && !whole && orderLook(*shown.view, m_state)) // what a step needs, from its beginning to its end
            grow(m_out.model,
                 placed(OrderLook::reach(*shown.view, m_state.order->plan->steps[m_state.order->step]), place));
        else
            grow(m_out.model, box);
        if (current && m_out.selection.empty())
            m_out.selection = box;
        if (current && m_state.step == JobStep::Cut && !m_state.painting && !m_state.liveScale)
            addCuts(part, place.point({0, 0, 0}));
        if (current)
            addKeepClear(part, shown, place);
    }

    /// Whether what was worked out is of this model at this size: else it would stand at the wrong place.
    static bool fits(const core::PartDesign& part, const PartShown& shown)
    {
        // Too small to have pieces: the model itself, at least.
        return shown.view && !shown.view->pieces.empty() && shown.view->realised->design.source == part.source &&
               shown.view->realised->design.scale == part.scale;
    }

    void addWhole(const core::PartDesign& part, const PartShown& shown, const Transform& at)
    {
        if (!shown.source)
            return;
        const Transform place = at * Transform::scaling(scaleOf(part, m_state));
        ViewItem item;
        item.mesh = shown.source->shown.draw;
        item.placement = place;
        item.colour = wholeColour;
        item.edges = m_state.edges;
        m_scene.items.push_back(item);
        m_out.bodies.push_back({shown.source->shown, place, part.id, 0});
    }

    void addPieces(const core::PartDesign& part, const PartView& view, const Transform& place, bool first)
    {
        const core::Project& project = view.realised->project;
        const bool current = part.id == m_state.part;
        const double gap = current ? explodedGapMm(view, m_state) : 0;
        const bool isolate = current && isIsolated(m_state);
        const std::optional<OrderLook> order = current ? orderLook(view, m_state) : std::nullopt;
        for (std::size_t i = 0; i < view.pieces.size(); ++i) {
            const int number = project.pieces[i].number;
            if (order && order->role(number) == OrderLook::Role::Absent)
                continue;
            const bool selected = current && m_state.pieces.contains(number);
            if (isolate && !selected)
                continue;
            const bool before = current && standsBefore(view, i);
            const Transform shift = order ? order->placement(number) : Transform::translation(gap * view.apart[i]);
            addPiece(part, view, i, place * shift, selected && !m_state.facing && !order, first && !before);
            if (before)
                m_scene.items.back().opacity = number == m_state.facing->before ? glassOpacity : faintOpacity;
        }
        if (order)
            m_out.arrows.push_back(order->arrow(view, place));
        else if (current && !isolate && m_state.step == JobStep::Joint)
            addSafety(part, view, place, gap);
        if (!isolate && (gap > 0 || m_state.seeThrough || order))
            addLoose(view, place, gap, order);
    }

    /// Whether a piece stands between the eye and the joint's face that is looked at.
    bool standsBefore(const PartView& view, std::size_t i) const
    {
        if (!m_state.facing || m_state.step != JobStep::Joint)
            return false;
        const int number = view.realised->project.pieces[i].number;
        return number == m_state.facing->before ||
               (number != m_state.facing->piece && m_state.facing->plane.distance(view.middles[i]) > 0);
    }

    void addPiece(const core::PartDesign& part, const PartView& view, std::size_t i, const Transform& place,
                  bool selected, bool badge)
    {
        const bool alone = view.pieces.size() == 1;
        ViewItem item;
        item.mesh = i < view.sunk.size() && view.sunk[i] ? view.sunk[i] : view.pieces[i].draw;
        item.placement = place;
        item.colour = alone ? wholeColour : view.colours[i];
        item.edges = m_state.edges;
        item.glowing = selected && !alone;
        if (m_state.seeThrough)
            item.opacity = glassOpacity;
        m_scene.items.push_back(item);
        const core::Piece& piece = view.realised->project.pieces[i];
        // Among many parts only the current one is numbered.
        badge = badge && (part.id == m_state.part || m_design.parts.size() == 1);
        if (!alone && badge)
            m_out.badges.push_back({place.point(view.middles[i]), badgeText(*view.realised, piece), item.colour,
                                    selected, m_out.bodies.size()});
        m_out.bodies.push_back({view.pieces[i], place, part.id, piece.number});
        if (selected) {
            if (!m_anySelected)
                m_out.selection = {};
            m_anySelected = true;
            grow(m_out.selection, placed(boundsOf(*item.mesh), place));
        }
    }

    static std::string badgeText(const core::Realised& realised, const core::Piece& piece)
    {
        const bool misfit = realised.stage != core::Realised::Stage::Cut && piece.pose.slackMm < 0;
        return fmt::format("{}{}", piece.number, misfit ? "!" : "");
    }

    /// How sure the faces are, and what pulls at them.
    void addSafety(const core::PartDesign& part, const PartView& view, const Transform& place, double gap)
    {
        if (m_state.showSafety && m_state.safety && m_state.safety->cutStamp == view.realised->cutStamp) {
            m_out.safety = m_state.safety;
            addSafetyLines(view, *m_state.safety, m_state.facing, place, gap, m_scene.lines);
            addSafetyNotes(view, *m_state.safety, place, gap, m_out.notes);
        }
        if (m_state.jointTab == JointTab::Strength)
            m_out.arrows = forceArrows(part.load, place, m_state.force);
    }

    void addLoose(const PartView& view, const Transform& place, double gap, const std::optional<OrderLook>& order)
    {
        const core::Project& project = view.realised->project;
        for (const LooseView& loose : view.loose) {
            if (order && !order->shows(project, loose))
                continue;
            const core::Seam& seam = project.seams[loose.seam];
            const Vec3 below = view.apart[static_cast<std::size_t>(seam.pieceBelow) - 1],
                       above = view.apart[static_cast<std::size_t>(seam.pieceAbove) - 1];
            ViewItem item;
            item.mesh = loose.mesh;
            item.placement = place * (order ? order->placement(project, loose)
                                            : Transform::translation(0.5 * gap * (below + above)));
            item.colour = item.capColour = loose.bought ? boughtColour : looseColour;
            if (!order && m_out.weak(loose.seam))
                item.colour = item.capColour = safetyColour(SafetyLevel::Weak);
            // Before a face that is looked at, those of other faces would only be in the way.
            if (m_state.facing && m_state.step == JobStep::Joint && !facesSeam(*m_state.facing, seam))
                item.opacity = faintOpacity;
            m_scene.items.push_back(item);
        }
    }

    void addCuts(const core::PartDesign& part, Vec3 shift)
    {
        const Box3 box = core::scaledBounds(part);
        if (m_state.preview) {
            if (!m_state.preview->empty())
                addPreview(*m_state.preview, 0, {}, box, shift);
            return;
        }
        if (m_state.liveSection)
            addSection(shift);
        for (const core::CutStep& cut : part.cuts) {
            const bool chosen = cut.id == m_state.cut;
            if (!cut.enabled && !chosen)
                continue;
            const mesh::Plane plane =
                m_state.livePlane && m_state.livePlane->first == cut.id ? m_state.livePlane->second : cut.plane;
            std::vector<std::pair<mesh::Plane, bool>> sides;
            for (const core::CutSide& side : cut.within)
                if (const core::CutStep* other = core::cutOf(part, side.cut); other != nullptr && other->enabled)
                    sides.emplace_back(other->plane, side.above);
            const std::size_t lines = m_scene.lines.size();
            addPlane(planeThroughBox(plane, box, sides), shift, chosen ? chosenPlaneColour : planeColour,
                     chosen                                 ? 0.34
                     : part.cuts.size() <= mostFilledPlanes ? 0.10
                                                            : 0);
            if (m_scene.lines.size() > lines)
                m_out.planes.push_back({cut.id, m_scene.lines.back().points});
        }
    }

    /// The planes of a suggestion, each within its cell; the one that is looked at stands out.
    void addPreview(const core::CutPlan& plan, int node, const std::vector<std::pair<mesh::Plane, bool>>& sides,
                    const Box3& box, Vec3 shift)
    {
        const core::CutPlan::Node& at = plan.nodes[static_cast<std::size_t>(node)];
        const bool chosen = node == m_state.previewCut;
        addPlane(planeThroughBox(at.plane, box, sides), shift, chosen ? chosenPlaneColour : previewColour,
                 chosen                                  ? 0.45
                 : plan.nodes.size() <= mostFilledPlanes ? 0.18
                                                         : 0);
        for (const bool above : {false, true})
            if (const int child = above ? at.above : at.below; child >= 0) {
                auto within = sides;
                within.emplace_back(at.plane, above);
                addPreview(plan, child, within, box, shift);
            }
    }

    /// Outline of the face that the selected cut makes.
    void addSection(Vec3 shift)
    {
        const core::CutSection& section = *m_state.liveSection;
        const mesh::PlaneFrame frame = mesh::frameOf(section.plane);
        for (const mesh::Loop& loop : section.outline) {
            ViewPolyline line{{}, sectionColour, 3, true};
            for (const mesh::Vec2 q : loop)
                line.points.push_back(frame.space(q) + shift);
            m_scene.lines.push_back(std::move(line));
        }
    }

    /// @param opacity  0: the outline alone
    void addPlane(std::vector<Vec3> corners, Vec3 shift, const Colour& colour, double opacity)
    {
        if (corners.size() < 3)
            return;
        for (Vec3& c : corners)
            c = c + shift;
        m_scene.lines.push_back({corners, colour, 1.5, true});
        if (opacity > 0)
            m_scene.patches.push_back({std::move(corners), colour, opacity});
    }

    void addKeepClear(const core::PartDesign& part, const PartShown& shown, const Transform& place)
    {
        if (!shown.keepClear || m_state.explode > 0)
            return;
        ViewItem item;
        item.mesh = shown.keepClear;
        item.placement = place * Transform::scaling(scaleOf(part, m_state));
        item.colour = keepClearColour;
        item.decal = true;
        m_scene.items.push_back(item);
    }

    void addFigure()
    {
        // To the left of the row, a step in front.
        const double gap = gapOf(m_out.model);
        const Box3 own = boundsOf(*figure());
        const Vec3 floor = floorOf(m_out.model);
        const Vec3 foot{(m_out.model.empty() ? 0 : m_out.model.min.x) - gap - own.max.x, floor.y, floor.z};
        ViewItem item;
        item.mesh = figure();
        item.placement = Transform::translation(foot);
        item.colour = figureColour;
        m_scene.items.push_back(item);
        grow(m_out.all, placed(own, item.placement));
        m_out.notes.push_back(
            {foot + Vec3{0, 0, personHeightMm * 1.03}, fmt::format("{:.2f} m", personHeightMm / 1e3)});
    }

    /// The level that the model stands on, and its middle from front to back.
    static Vec3 floorOf(const Box3& model)
    {
        return model.empty() ? Vec3{0, 0, 0} : Vec3{0, model.centre().y, model.min.z};
    }

    static double gapOf(const Box3& model)
    {
        const Vec3 e = model.extents();
        return std::max(leastGapMm, gapShare * std::max({e.x, e.y, e.z}));
    }

    void addBedBeside()
    {
        const core::Bed& bed = m_design.beds.front();
        const double x = (m_out.model.empty() ? 0 : m_out.model.max.x) + gapOf(m_out.model) + 0.5 * bed.widthMm;
        const Vec3 floor = floorOf(m_out.model);
        const Box3 box = addBed(bed, {x, floor.y, floor.z});
        const Vec3 size = m_out.model.extents();
        grow(m_out.all, box);
        if (std::max({size.x, size.y, size.z}) > lostShare * std::max(bed.widthMm, bed.depthMm))
            grow(m_out.first, box);
    }

    /// The plate and the edges of the room above it. Returns its bounds.
    Box3 addBed(const core::Bed& bed, Vec3 middle)
    {
        const bool round = bed.shape == core::Bed::Shape::Round;
        std::vector<Vec3> plate;
        const int corners = round ? 64 : 4;
        for (int i = 0; i < corners; ++i) {
            const double angle = 2 * std::numbers::pi * (i + (round ? 0 : 0.5)) / corners;
            const double rx = round ? 0.5 * bed.widthMm : std::numbers::sqrt2 * 0.5 * bed.widthMm;
            const double ry = round ? 0.5 * bed.widthMm : std::numbers::sqrt2 * 0.5 * bed.depthMm;
            plate.push_back(middle + Vec3{rx * std::cos(angle), ry * std::sin(angle), 0});
        }
        const Vec3 up{0, 0, bed.heightMm};
        std::vector<Vec3> roof;
        for (std::size_t i = 0; i < plate.size(); ++i) {
            roof.push_back(plate[i] + up);
            if (!round || i % 16 == 0)
                m_scene.lines.push_back({{plate[i], plate[i] + up}, bedColour, 1.2, false});
        }
        m_scene.lines.push_back({plate, bedColour, 1.8, true});
        m_scene.lines.push_back({roof, bedColour, 1.2, true});
        m_scene.patches.push_back({plate, bedColour, 0.25});
        m_out.notes.push_back(
            {middle,
             round ? fmt::format("bed \xE2\x8C\x80{:g} \xC3\x97 {:g} mm", bed.widthMm, bed.heightMm)
                   : fmt::format("bed {:g} \xC3\x97 {:g} \xC3\x97 {:g} mm", bed.widthMm, bed.depthMm, bed.heightMm)});
        Box3 box;
        for (const Vec3& p : plate) {
            box.add(p);
            box.add(p + up);
        }
        return box;
    }

    /// The selected piece alone, in its print pose on its bed. False when there is none to show.
    bool addOnBed()
    {
        const core::PartDesign* part = m_design.part(m_state.part);
        if (part == nullptr || m_state.pieces.empty())
            return false;
        const PartShown shown = m_shown(part->id);
        if (!shown.view || shown.view->realised->stage == core::Realised::Stage::Cut)
            return false;
        const core::Project& project = shown.view->realised->project;
        const auto i = static_cast<std::size_t>(*m_state.pieces.begin()) - 1;
        if (i >= project.pieces.size())
            return false;
        const core::Pose& pose = project.pieces[i].pose;
        addPiece(*part, *shown.view, i, pose.printFromAssembled, false, false);
        m_out.model = m_out.selection = placed(boundsOf(*shown.view->pieces[i].draw), pose.printFromAssembled);
        if (!m_design.beds.empty() && pose.bed < project.beds.size())
            grow(m_out.model, addBed(project.beds[pose.bed], {0, 0, 0}));
        m_out.first = m_out.all = m_out.model;
        return true;
    }

    const core::Design& m_design;
    const std::function<PartShown(int)>& m_shown;
    const ViewState& m_state;
    std::vector<Vec3> m_row;
    ViewScene m_scene;
    BuiltScene m_out;
    bool m_anySelected = false;
};

/// A convex polygon less what lies on the wrong side of a plane.
std::vector<Vec3> clipped(const std::vector<Vec3>& polygon, const mesh::Plane& plane, bool above)
{
    std::vector<Vec3> out;
    const double sign = above ? 1 : -1;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec3 p = polygon[i], q = polygon[(i + 1) % polygon.size()];
        const double dp = sign * plane.distance(p), dq = sign * plane.distance(q);
        if (dp >= 0)
            out.push_back(p);
        if ((dp >= 0) != (dq >= 0))
            out.push_back(p + (dp / (dp - dq)) * (q - p));
    }
    return out;
}

} // namespace

bool isAlone(const ViewState& state)
{
    return state.part != 0 && (state.step == JobStep::Cut || state.step == JobStep::Joint || state.painting);
}

bool isIsolated(const ViewState& state)
{
    return state.isolate && !state.pieces.empty();
}

bool isShown(const core::PartDesign& part, const ViewState& state)
{
    return isAlone(state) ? part.id == state.part : part.visible;
}

bool isAssembled(const core::Design& design, const ViewState& state)
{
    if (!state.assembled || isAlone(state))
        return false;
    bool any = false;
    for (const core::PartDesign& part : design.parts)
        if (isShown(part, state)) {
            if (part.places.empty())
                return false;
            any = true;
        }
    return any;
}

double explodedGapMm(const PartView& view, const ViewState& state)
{
    return state.explode * explodeShare * mesh::length(core::scaledBounds(view.realised->design).extents());
}

std::vector<Vec3> rowOf(const core::Design& design, const ViewState& state)
{
    std::vector<Vec3> row;
    // Alone, a part stands where its own coordinates say, so that numbers in the view are those in the panels.
    if (isAlone(state))
        return std::vector<Vec3>(design.parts.size(), Vec3{0, 0, 0});
    double x = 0, largest = 0;
    for (const core::PartDesign& part : design.parts)
        if (isShown(part, state)) {
            const Vec3 e = scaleOf(part, state) / part.scale * core::scaledBounds(part).extents();
            largest = std::max({largest, e.x, e.y, e.z});
        }
    const double gap = std::max(leastGapMm, gapShare * largest);
    for (const core::PartDesign& part : design.parts) {
        const double factor = scaleOf(part, state) / part.scale;
        Box3 box = core::scaledBounds(part);
        box = {factor * box.min, factor * box.max};
        const Vec3 middle = box.centre();
        row.push_back({x - box.min.x, -middle.y, -box.min.z});
        if (isShown(part, state))
            x += box.extents().x + gap;
    }
    return row;
}

std::vector<Vec3> planeThroughBox(const mesh::Plane& plane, const Box3& box,
                                  const std::vector<std::pair<mesh::Plane, bool>>& sides)
{
    const double reach = mesh::length(box.extents());
    const mesh::PlaneFrame frame = mesh::frameOf(plane);
    const mesh::Vec2 middle = frame.flat(box.centre());
    std::vector<Vec3> polygon;
    for (const mesh::Vec2 corner : {mesh::Vec2{-1, -1}, {1, -1}, {1, 1}, {-1, 1}})
        polygon.push_back(frame.space(middle + reach * corner));
    const double rim = planeRimShare * reach;
    for (int axis = 0; axis < 3; ++axis) {
        const Vec3 n{axis == 0 ? 1.0 : 0, axis == 1 ? 1.0 : 0, axis == 2 ? 1.0 : 0};
        polygon = clipped(polygon, {n, box.min[axis] - rim}, true);
        polygon = clipped(polygon, {n, box.max[axis] + rim}, false);
    }
    for (const auto& [side, above] : sides)
        polygon = clipped(polygon, side, above);
    return polygon;
}

BuiltScene buildScene(const core::Design& design, const std::function<PartShown(int part)>& shown,
                      const ViewState& state)
{
    return Builder(design, shown, state).build();
}

} // namespace quoin::ui
