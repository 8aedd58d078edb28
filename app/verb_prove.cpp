// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/report.h"
#include "app/verbs.h"

#include "core/proof.h"

#include <iostream>

namespace quoin::app {

void addProve(CLI::App& app, Work& run)
{
    struct Options {
        std::string folder;
        bool asJson = false;
    };
    auto options = std::make_shared<Options>();
    CLI::App* verb = app.add_subcommand("prove", "Prove an exported folder again, from its files alone");
    verb->add_option("folder", options->folder, "Folder written by split")->required();
    verb->add_flag("--json", options->asJson, "The whole proof, for programs");
    verb->callback([options, &run] {
        run = [options](const Context& context) -> int {
            const auto proof = core::prove(options->folder, context);
            if (!proof)
                return say(proof.problem());
            if (options->asJson)
                std::cout << core::toJson(*proof).dump(1) << "\n";
            else {
                printStrength(*proof);
                printProof(*proof);
            }
            return proof->holds() ? Ok : ProofDoesNotHold;
        };
    });
}

} // namespace quoin::app
