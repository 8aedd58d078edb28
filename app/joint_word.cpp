// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/joint_word.h"

#include <algorithm>
#include <string_view>

namespace quoin::app {

namespace {

constexpr std::string_view withKey = "+key";

} // namespace

std::vector<std::string> jointWords()
{
    std::vector<std::string> words;
    for (const core::JointForm::Kind kind : core::allJointKinds) {
        std::string word = core::kindName(kind);
        std::ranges::replace(word, ' ', '-');
        words.push_back(std::move(word));
    }
    return words;
}

std::optional<core::JointForm::Kind> jointKindOf(const std::string& word)
{
    std::string name = word;
    std::ranges::replace(name, '-', ' ');
    return core::kindFromName(name);
}

std::vector<std::string> jointWishWords()
{
    std::vector<std::string> words = jointWords();
    std::erase(words, "clocking-key"); // only beside something
    for (const core::JointForm::Kind kind : {core::JointForm::Kind::Screw, core::JointForm::Kind::Stud})
        words.push_back(std::string(core::kindName(kind)) + std::string(withKey));
    return words;
}

JointWish jointWishOf(const std::string& word)
{
    const bool clocked = word.ends_with(withKey);
    return {jointKindOf(clocked ? word.substr(0, word.size() - withKey.size()) : word), clocked};
}

} // namespace quoin::app
