namespace DecayAtlas.Contributions.Reports;

/// <param name="Caption">What it shows.</param>
public sealed record TellingTable(string Caption, IReadOnlyList<string> Head, IReadOnlyList<IReadOnlyList<string>> Rows)
{
    /// <summary>Each row as one sentence, where there are any.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public IReadOnlyList<string> Lines { get; init; } = [];
}

/// <summary>What a check tells its sender, answers first, in the words of a language: what the group gets, then what to do, then the
/// rest.</summary>
/// <param name="First">The line that everything begins with.</param>
/// <param name="Then">What follows from it, a sentence each.</param>
/// <param name="Gate">What was read beside what is usual; null where nothing can be judged.</param>
/// <param name="Mend">What must be mended, the same slip together.</param>
/// <param name="Look">What keeps nothing out.</param>
/// <param name="Results">k and S of each burial; null where there is none.</param>
/// <param name="Facts">What stands in it: a name and a value.</param>
public sealed record CheckTelling(
    string First, IReadOnlyList<string> Then, TellingTable? Gate, TellingTable? Mend, TellingTable? Look, TellingTable? Results,
    IReadOnlyList<(string What, string Value)> Facts)
{
    private const int MostNamed = 5;

    /// <summary>All that is to be looked at as well and keeps nothing out, a sentence each: what may be a slip, what is unusual, and
    /// burials that were read whole and give nothing.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public IReadOnlyList<string> Beside { get; init; } = [];

    public static CheckTelling Of(CheckReport check, Phrases words) => new Teller(check, words).Tell();

    private sealed class Teller(CheckReport check, Phrases words)
    {
        private readonly FindingGroup[] _mend = Grouped(check, check.Result.Findings);
        private readonly FindingGroup[] _look = Grouped(check, check.Result.Warnings);

        public CheckTelling Tell() => new(First(), [.. Then()], Gate(), Groups("answer.todo", _mend), Groups("answer.look", _look),
            Results(), [.. Facts()])
        {
            Beside = [.. Beside()],
        };

        private IEnumerable<string> Beside()
        {
            foreach (FindingGroup group in _look)
                yield return group.Line(words);
            foreach (PlausibilityLine line in check.ToConfirm)
                yield return words.Say("gate.line", Cells(line));
            // a bag whose row could not be read is no missing bag
            foreach (IGrouping<string?, CheckedBurial> none in check.Burials
                .Where(burial => burial.RateMissingBecause is not null
                    && check.Result.SoundRows?.UnreadBurials.Contains(burial.BurialId) != true)
                .GroupBy(burial => burial.RateMissingBecause))
            {
                string[] ids = [.. none.Select(burial => burial.BurialId)];
                string named = Invariant($"{ids.Length} ({Named(ids)})");
                yield return words.Say("answer.others", named, words["answer.because." + none.Key]) + " "
                    + words["answer.todo." + none.Key];
            }
        }

        private static FindingGroup[] Grouped(CheckReport check, IEnumerable<Finding> findings) =>
            [.. FindingGroup.Of(check.Result.Format == ContributionFormat.Kit
                ? findings.Select(one => one with { IsToldOfKit = true }) : findings)];

        private string First()
        {
            if (check.Summary is not { } summary || IsNothing(summary))
            {
                if (_mend.Length == 0)
                    return words["answer.empty"];
                string what = $"{FindingWords.Found(_mend[0].First, words)}. {FindingWords.ToDo(_mend[0].First, words)}";
                // nothing in an entry says little without the entry
                return words.Say("answer.unreadable", _mend[0].First.Found == "nothing" ? $"{_mend[0].Where(words)}: {what}" : what);
            }
            if (_mend.Length > 0)
                return words.Say("answer.mend", _mend.Length);
            // who gets nothing reads that first
            return check.ToConfirm.Count > 0 && !GetsNothing(summary) ? words.Say("answer.confirm", check.ToConfirm.Count) : Gets(summary);
        }

        private static bool GetsNothing(CheckSummary summary) => summary is { Burials: > 0, BurialsWithRate: 0 };

        private static bool IsNothing(CheckSummary summary) => summary is { Bags: 0, Results: 0 };

        // what the group gets, whatever else is to be done
        private string Gets(CheckSummary summary)
        {
            if (summary.Burials == 0)
            {
                RateCount all = new(summary.Results, summary.Summarised.WithRate + summary.Reported.WithRate);
                return words.Say("answer.results", all.WithRate, all.Rows, Range(
                    check.Plausibility.FirstOrDefault(line => line.Code == "rate"), "0.0000"));
            }
            if (summary.BurialsWithRate == 0)
                return words.Say("answer.none", words["answer.because." + summary.WithoutRate[0].Reason]);
            string k = Range(Line("rate"), "0.0000"), s = Range(Line("stabilisation"), "0.00");
            return summary.BurialsWithRate == summary.Burials ? words.Say("answer.all", summary.Burials, k, s)
                : words.Say("answer.some", summary.BurialsWithRate, summary.Burials, k, s);
        }

        private IEnumerable<string> Then()
        {
            if (check.Summary is not { } summary || IsNothing(summary))
                yield break;
            if (_mend.Length > 0)
            {
                if (summary.Burials > 0)
                    yield return words.Say("answer.so-far", summary.BurialsWithRate, summary.Burials + summary.BurialsNotRead);
                foreach (string line in Counting(summary))
                    yield return line;
                yield break;
            }
            if (check.ToConfirm.Count > 0)
                yield return GetsNothing(summary) ? words.Say("answer.confirm", check.ToConfirm.Count) : Gets(summary);
            foreach (string line in Counting(summary))
                yield return line;
            foreach (ReasonCount reason in summary.WithoutRate)
            {
                string[] ids = [.. check.Burials.Where(burial => burial.RateMissingBecause == reason.Reason)
                    .Select(burial => burial.BurialId)];
                // what is to be done of these burials is said of no other
                string todo = words["answer.todo." + reason.Reason];
                yield return summary.BurialsWithRate == 0 && reason == summary.WithoutRate[0] && reason.Reason != CheckedBurial.BagLost
                    ? todo
                    : words.Say("answer.others", Invariant($"{reason.Burials} ({Named(ids)})"),
                        words["answer.because." + reason.Reason]) + " " + todo;
            }
            foreach (ReasonCount reason in summary.ResultsWithoutRate)
            {
                yield return words.Say("answer.others", words.Count(reason.Burials), words["answer.because." + reason.Reason]);
                yield return words["answer.todo." + reason.Reason];
            }
            if (check.ToConfirm.Count == 0 && summary.WithoutRate.Count == 0 && summary.ResultsWithoutRate.Count == 0)
                yield return words["answer.ready"];
        }

        // a result that will be marked as doubtful is none that counts
        private IEnumerable<string> Counting(CheckSummary summary)
        {
            if (summary.BurialsInDoubt == 0)
                yield break;
            UsualRange depth = ForeseenDoubts.DepthCentimetres(check.Result.PlannedDepthCentimetres);
            yield return words.Say("answer.count", summary.BurialsWithRate - summary.BurialsInDoubt, summary.BurialsWithRate);
            foreach (string doubt in ForeseenDoubts.All)
            {
                string[] ids = [.. check.Burials.Where(burial => burial.Doubts.Contains(doubt)).Select(burial => burial.BurialId)];
                string why = words.Say("answer.doubt." + doubt, words.Number(depth.Least), words.Number(depth.Most));
                if (ids.Length > 0)
                    yield return words.Say("answer.doubt", Named(ids), why);
            }
        }

        private TellingTable? Gate() => check.Plausibility.Count == 0 ? null : new TellingTable(
            words[check.ToConfirm.Count == 0 ? "gate.title.usual" : _mend.Length > 0 ? "gate.title.later" : "gate.title"],
            [words["gate.what"], words["gate.yours"], words["gate.usual"], ""],
            [.. check.Plausibility.Select(Cells)]);

        private string[] Cells(PlausibilityLine line) =>
        [
            words["gate." + line.Code],
            line.Lowest is null ? words.Say("gate.of", line.Of - line.Outside.Count, line.Of) : Range(line, FormatOf(line)),
            line.UsualLeast is null ? words["gate.all"]
                : words.Say("gate.range", words.Number(line.UsualLeast), words.Number(line.UsualMost)),
            line.IsUsual ? words["gate.ok"] : Look(line),
        ];

        // a bare number would be taken for a row or for a place
        private string Look(PlausibilityLine line)
        {
            string of = line.Code is "on-land" or "in-country" ? "gate.place"
                : line.Code is "days" or "campaign-days" or "depth" or "ash-over-lot" or "litter-mass" or "mass-over-nominal" ? "gate.bag"
                : line.Outside.All(id => check.Burials.Any(burial => burial.BurialId == id)) ? "gate.hole" : "gate.look";
            if (of == "gate.bag" && line.Outside.Any(id => check.Result.SoundRows?.Bags.Any(bag => bag.BagId == id) != true))
                of = "gate.look";
            IReadOnlyDictionary<string, string> names = check.Result.SoundRows!.SiteNames();
            return words.Say(of + (of != "gate.look" && line.Outside.Count > 1 ? "s" : ""), Named([.. line.Outside.Select(id =>
                of == "gate.place" ? words.Say("gate.named", names.GetValueOrDefault(id, id)) : id)]));
        }

        private TellingTable? Groups(string caption, FindingGroup[] groups) => groups.Length == 0 ? null : new TellingTable(words[caption],
            [words["waiting.where"], words["waiting.found"], words["waiting.expected"], words["waiting.mend"]],
            [.. groups.Select(group => (string[])
            [
                group.Where(words), group.Found(words), FindingWords.Expected(group.First, words),
                FindingWords.ToDo(group.First, words),
            ])])
        {
            Lines = [.. groups.Select(group => group.Line(words))],
        };

        private TellingTable? Results() => check.Burials.Count == 0 ? null
            : Results(check.Result.SoundRows?.SiteNames() ?? new Dictionary<string, string>());

        private TellingTable Results(IReadOnlyDictionary<string, string> siteNames) => new(words["answer.results-of"],
            [
                words["answer.burial"], words["answer.site"], words["answer.days"], words["answer.left-fast"], words["answer.left-slow"],
                words["answer.k"], words["answer.s"],
            ],
            [.. check.Burials.Select(b => (string[])
            [
                b.BurialId, siteNames.GetValueOrDefault(b.SiteId, b.SiteId), words.Number(b.ExposureDays, "0"),
                words.Percent(b.FastRemaining), words.Percent(b.SlowRemaining),
                b.RatePerDay is { } k ? $"{words.Rate(k)} ({End(b.RateLower95PerDay)} – {End(b.RateUpper95PerDay)})"
                    : b.RateAtLeastPerDay is { } least ? words.Say("answer.at-least", words.Rate(least))
                    : words["answer.because." + b.RateMissingBecause],
                b.Stabilisation is { } s ? $"{words.Number(s, "0.00")} ± {words.Number(b.StabilisationUncertainty, "0.00")}"
                    : words.Missing,
            ])]);

        // an end that the weighings do not set stays open
        private string End(double? perDay) => perDay is null ? "…" : words.Rate(perDay);

        private IEnumerable<(string, string)> Facts()
        {
            yield return (words["answer.read-as"], words["answer.format." + (check.Result.Format switch
            {
                ContributionFormat.Workbook => "workbook",
                ContributionFormat.WideTable => "wide-table",
                ContributionFormat.DataPackage => "data-package",
                ContributionFormat.Kit => "kit",
                _ => "none",
            })]);
            if (check.Result.Contribution is { } contribution)
            {
                yield return (words["answer.revision"], words.Say("answer.revision.text",
                    contribution.Header.Revision.ToString(System.Globalization.CultureInfo.InvariantCulture)));
            }
            if (check.Summary is not { } s)
                yield break;
            yield return (words[check.IsValid ? "answer.rows" : "answer.rows.sound"],
                words.Say("answer.rows.text", s.Sites, s.Lots, s.Bags, s.Samples));
            if (s.Burials > 0 || s.Results == 0)
            {
                int all = s.Burials + s.BurialsNotRead;
                yield return (words["answer.burials"], words.Count(all));
                if (s.BurialsNotRead > 0)
                    yield return (words["answer.not-read"], words.Say("gate.of", s.BurialsNotRead, all));
                yield return (words["answer.with-k"], words.Say("gate.of", s.BurialsWithRate, all));
                yield return (words["answer.with-s"], words.Say("gate.of", s.BurialsWithStabilisation, all));
            }
            if (s.Results > 0)
            {
                yield return (words["answer.means"], words.Say("answer.means.text", s.Results, s.ResultBurials));
                yield return (words["answer.means.with-k"], words.Say("answer.means.of", s.Summarised.WithRate + s.Reported.WithRate,
                    s.Results, s.Summarised.WithRate, s.Summarised.Rows, s.Reported.WithRate, s.Reported.Rows));
            }
            if (s.FirstBuriedOn is { } first)
                yield return (words["answer.first"], words.Day(first));
            if (s.LastRetrievedOn is { } last)
                yield return (words["answer.last"], words.Day(last));
        }

        private PlausibilityLine? Line(string code) => check.Plausibility.FirstOrDefault(line => line.Code == code);

        private string Range(PlausibilityLine? line, string format) => line is null ? words.Missing
            : line.Lowest == line.Highest ? words.Number(line.Lowest, format)
            : words.Say("gate.range", words.Number(line.Lowest, format), words.Number(line.Highest, format));

        private static string FormatOf(PlausibilityLine line) => line.Code switch
        {
            "rate" => "0.0000",
            "exposure-days" => "0",
            "depth" => "0.#",
            _ => "0.00",
        };

        private string Named(string[] ids) => ids.Length <= MostNamed ? string.Join(", ", ids)
            : words.Say("gate.more", string.Join(", ", ids.Take(MostNamed - 1)), ids.Length - MostNamed + 1);
    }
}
