// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/many_selected.h"

#include <catch2/catch.hpp>

namespace quoin::ui {

namespace {

ViewScenePtr sceneOf(std::size_t selected)
{
    auto scene = std::make_shared<ViewScene>();
    scene->items.resize(selected + 5);
    for (std::size_t i = 0; i < selected; ++i)
        scene->items[i].glowing = true;
    return scene;
}

} // namespace

TEST_CASE("many selected: a few stay as they are")
{
    const ViewScenePtr few = sceneOf(mostOutlined);
    CHECK(withPlainSelection(few) == few);
    CHECK(withPlainSelection(nullptr) == nullptr);
}

TEST_CASE("many selected: more are told by their colour alone")
{
    const ViewScenePtr many = sceneOf(mostOutlined + 1);
    const ViewScenePtr plain = withPlainSelection(many);
    REQUIRE(plain != many);
    for (std::size_t i = 0; i < plain->items.size(); ++i) {
        const bool selected = many->items[i].glowing;
        CHECK_FALSE(plain->items[i].glowing);
        CHECK((plain->items[i].colour != many->items[i].colour) == selected);
    }
    CHECK(many->items[0].glowing); // the caller's stays
}

} // namespace quoin::ui
