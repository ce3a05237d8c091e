namespace DecayAtlas.Questions.Charts;

/// <summary>What a plan sees, drawn.</summary>
public static class PlanCharts
{
    private const int Steps = 40;

    /// <summary>Power against sites by formula, one line a number of burials (of campaigns, where they differ), simulated power with two
    /// standard errors as points; for the mean of one site half its interval against burials. None without designs.</summary>
    public static Chart? Of(PlanRequest request, PlanAnswer answer) =>
        answer.Designs.Count == 0 || answer.Variances is null ? null
        : request.Comparison is null ? OfOneSite(request, answer) : OfPower(request, answer);

    private static XyChart OfPower(PlanRequest request, PlanAnswer answer)
    {
        int most = (int)Math.Ceiling(1.3 * answer.Designs.Max(d => d.SitesPerGroup));
        int[] sites = [.. Enumerable.Range(0, Steps + 1).Select(i => 2 + (int)Math.Round((most - 2) * i / (double)Steps)).Distinct()];
        List<Layer> layers = [new Rule(request.Power) { IsDashed = true, Label = "power asked for" }];
        // the more burials a plot, the stronger the colour, whatever else the designs differ by
        int[] burials = [.. answer.Designs.Select(d => d.Burials).Distinct().Order()];
        IReadOnlyList<Tone> steps = HouseColours.Ordered(burials.Length);
        foreach ((PlanRow row, int series) in answer.Designs.Select((d, i) => (d, i)))
        {
            Tone colour = steps[Array.IndexOf(burials, row.Burials)];
            PlannedPower power = new(
                request.Designs.First(d => (d.Plots, d.Burials, d.Campaigns) == (row.Plots, row.Burials, row.Campaigns)), answer.Variances!,
                seed: request.Seed);
            layers.Add(new Line([.. sites.Select(g => ((double)g, power.Of(request.Difference, g)))])
            {
                Series = series,
                Colour = colour,
                Label = NameOf(request, row),
            });
            if (row is { Power: { } seen, PowerError: { } error })
            {
                layers.Add(new Points([new ChartPoint(row.SitesPerGroup, seen, seen - 2 * error, seen + 2 * error)])
                {
                    Series = series,
                    Colour = colour,
                    Size = 9,
                });
            }
        }

        string groups = request.Comparison == PlannedComparison.Between ? "sites in each group" : "sites";
        string title = answer.Best is { } best
            ? $"{best.SitesPerGroup} {groups} with {Counted.Of(best.Burials, "burial")} a plot show {request.EffectTold}"
            : $"No design tried shows {request.EffectTold} often enough";
        return new XyChart(
            title, $"Lines of power against {groups}, one for each design. {string.Join(" ", answer.Sentences.Take(2))}",
            new Axis(groups) { From = 0 }, new Axis("power") { From = 0, To = 1 }, layers)
        {
            Note = $"{answer.Sentences[0]} Lines: formula; points: simulated, with two standard errors.",
            Height = 540,
        };
    }

    private static XyChart OfOneSite(PlanRequest request, PlanAnswer answer)
    {
        List<Layer> layers = [];
        foreach ((IGrouping<(int Plots, int Campaigns), PlanRow> rows, int i) in
            answer.Designs.GroupBy(d => (d.Plots, d.Campaigns)).Select((g, i) => (g, i)))
        {
            string name = $"{Counted.Of(rows.Key.Plots, "plot")}, {Counted.Of(rows.Key.Campaigns, "campaign")}";
            layers.Add(new Line([.. rows.Select(r => ((double)r.Burials, r.SiteHalfWidth))]) { Series = i, Label = name });
            layers.Add(new Line([.. rows.Select(r => ((double)r.Burials, r.SiteHalfWidthOverSeasons))])
            {
                Series = i,
                IsDashed = true,
                Label = $"{name}, over seasons",
            });
        }

        return new XyChart(
            "How well the mean of one site is known",
            $"Lines of half the 95 % interval of a site's mean against burials. {answer.Sentences[0]}",
            new Axis("burials in each plot and campaign") { From = 0 },
            new Axis(request.IsOfRate ? "half of the 95 % interval (% of k)" : "half of the 95 % interval (S)") { From = 0 }, layers)
        { Note = answer.Sentences[0] };
    }

    private static string NameOf(PlanRequest request, PlanRow row) => string.Join(", ", new[]
    {
        Counted.Of(row.Burials, "burial") + " a plot",
        request.Plots.Count > 1 ? Counted.Of(row.Plots, "plot") : "",
        request.Campaigns.Count > 1 ? Counted.Of(row.Campaigns, "campaign") : "",
    }.Where(t => t.Length > 0));
}
