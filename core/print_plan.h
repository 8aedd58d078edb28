// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/plan_progress.h"
#include "core/plan_simulation.h"
#include "core/plate_build.h"
#include "core/schedule.h"
#include "mesh/context.h"
#include "mesh/result.h"

#include <nlohmann/json.hpp>

#include <optional>
#include <string>
#include <vector>

/// The plan: what is printed together, on which machine, when, what it takes, whether the date holds, and what would
/// help. Plain values throughout: the window, the command line, the PDF and the files show the same.
namespace quoin::core {

/// Whether test fits are printed before everything else.
enum class TestFits {
    Never,        ///< as any other piece
    First,        ///< first on each machine
    FirstAndWait, ///< and nothing else begins before they are off the plate
};

struct PlanRequest {
    std::vector<Machine> machines;
    std::vector<SpoolStock> stock; ///< materials without a line aren't reckoned with
    Moment start{};
    std::optional<Moment> deadline;
    TestFits testFits = TestFits::First;
    PlateRules plates;
    double pricePerKwh = 0;
    long tries = 20'000;    ///< of the schedule's search
    long alikeMinutes = 1;  ///< orders that end apart by less count as ending together: wishes decide between them
    bool sturdy = true;     ///< of several orders that end nearly alike, take the one that most likely keeps the date
    int simulations = 2000; ///< 0: none
    std::uint64_t seed = 1;
    bool help = true;      ///< look for what would help most
    PlanProgress progress; ///< what has been printed already
};

/// One bar of the chart: a plate on a machine.
struct PlanBar {
    std::size_t plate = 0;   ///< of PrintPlan::plates
    std::size_t machine = 0; ///< of the request's
    Moment change{}, start{}, end{}, ready{};
    bool endsAttended = true;
    double grams = 0;
    double hours = 0;      ///< on this machine
    double failChance = 0; ///< that this print fails
    std::string words;     ///< "Tue 1 Dec 08:20 to Wed 2 Dec 06:10, taken off 08:00"
};

/// A spool to be put on while a machine works through its bars.
struct SpoolChange {
    std::size_t machine = 0;
    std::size_t bar = 0; ///< of PrintPlan::bars: before it, or while it runs
    Moment at{};
    std::string material;
    bool beforeStart = true; ///< else the spool runs out while the plate is printed
    bool attended = true;
    std::string words;
};

struct MachineUse {
    std::size_t plates = 0;
    double hours = 0, grams = 0, energyKwh = 0;
    double cost = 0;      ///< of its hours and energy
    double busyShare = 0; ///< of the time from the start to the plan's end
    int spoolChanges = 0;
};

struct SpoolNeed {
    std::string material;
    double grams = 0;      ///< of all plates
    double spareGrams = 0; ///< expected to be lost in failed prints
    double stockGrams = 0;
    bool stockKnown = false;
    double shortGrams = 0; ///< to be bought
    int buySpools = 0;
    double spoolGrams = 1000;
    std::optional<Moment> shortFrom; ///< when the stock runs out: they must be there by then
    double cost = 0;                 ///< of grams, by the price of the stock
    std::string words;
};

/// What failures are expected to cost, on average (FailureRate::meanHours).
struct Reprints {
    double failures = 0, hours = 0, grams = 0;
    std::string words;
};

struct PlanChance {
    Simulation simulation;
    std::optional<double> kept; ///< chance that the deadline holds
    Moment likely{}, late{};    ///< by which half and nine of ten of the runs were ready
    std::string words;
    struct Bar {
        Moment day{};     ///< its beginning
        double share = 0; ///< of the runs that became ready on it
    };
    std::vector<Bar> days; ///< a histogram
};

/// Something that would make it earlier, tried by planning anew.
struct PlanHelp {
    std::string kind;  ///< "machine", "recipe", "split", "first", "nights", "weekends", "attended", "plates", "tests"
    std::string words; ///< "One more machine like big one"
    Moment finish{};
    double hoursGained = 0;       ///< of the plan's end
    std::optional<double> chance; ///< of the deadline, then
    std::optional<double> chanceGained;
    std::size_t piecesGained = 0; ///< pieces that can be printed then, and can't now
    std::string assumption;       ///< what it rests on; may be empty
};

/// "2 d 6 h earlier, the deadline then holds with a chance of 99 %".
std::string gainWords(const PlanHelp& help);

/// Pieces that are in no plate.
struct PlanLeft {
    std::size_t piece = 0;
    std::string why;
};

struct PrintPlan {
    PlateJob job; ///< what is still to be printed
    PlanRequest request;
    std::vector<Plate> plates;
    std::size_t leastPlates = 0; ///< proved
    std::string leastPlatesWords, sharedWords;
    std::vector<PlanBar> bars; ///< by machine, in their order
    Moment finish{};           ///< all taken off, if nothing fails
    Moment earliest{};         ///< proved: no order of these plates on these machines ends before
    std::string earliestWords; ///< what proves it
    bool optimal = false;      ///< no order ends earlier
    std::string how;           ///< how the order was found
    std::vector<MachineUse> use;
    std::vector<SpoolChange> spoolChanges;
    std::vector<SpoolNeed> spools;
    Reprints reprints;
    double grams = 0, hours = 0, energyKwh = 0, cost = 0; ///< of all plates, without reprints
    double printedGrams = 0, printedHours = 0;            ///< so far, as reported
    std::size_t piecesDone = 0, piecesAll = 0;
    std::optional<bool> keepsDeadline; ///< if nothing fails
    std::optional<PlanChance> chance;
    std::vector<PlanHelp> help; ///< the best first
    std::vector<PlanLeft> left;
    std::vector<Note> notes;
    std::vector<std::string> cautions; ///< never empty
    std::string verdict;               ///< in a sentence or two
};

/// Makes the plan. Pieces whose state is printed are left out; what is being printed keeps its machine busy.
/// Deterministic: the same request gives the same plan.
/// @return BadArgument without machines or pieces, or for two pieces of one id; Cancelled
Result<PrintPlan> planPrinting(const PlateJob& job, const PlanRequest& request, const Context& context = {});

/// The machine's share of what the plan is judged by, in words: unattended heat.
std::vector<std::string> planCautions(const std::vector<Machine>& machines);

nlohmann::json planJson(const PrintPlan& plan);
/// RFC 4180, one line a plate: number, machine, when, pieces, grams, hours.
std::string planCsv(const PrintPlan& plan);
/// One line a piece: id, plate, machine, when it is ready, grams, hours.
std::string piecesCsv(const PrintPlan& plan);
/// SVG: a plate as seen from above, true to scale in mm.
std::string plateSvg(const PrintPlan& plan, std::size_t plate);
/// SVG: the machines' bars over the days, hours attended, the deadline.
std::string chartSvg(const PrintPlan& plan);

} // namespace quoin::core
