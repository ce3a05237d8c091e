namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Says how many sites, plots, burials and campaigns show a stated effect.</summary>
internal sealed class PlanCommand(Screen screen) : PlainCommand<PlanSettings>
{
    protected override int Execute(PlanSettings settings)
    {
        PlanRequest request = settings.Request();
        if (settings.File is not { } file)
        {
            if (settings.Variances is null)
            {
                throw new ConfigurationException("Name a configuration whose release gives the variances, or state them with --variances, "
                    + "for example site=0.04,campaign-at-site=0.01,burial=0.02.");
            }

            Tell(settings, request, PlanQuestion.Ask(request, settings.Stated(new PlanVariances("as stated"))), null);
            return RecordedRun.Done;
        }

        CurrentRelease release = CurrentRelease.Of(file);
        IReadOnlyList<ReleasedSiteCampaign> campaigns = release.Tables.Rows(AtlasTables.SiteCampaigns);
        // by formula, since the same chance would have to play twice
        WithAndWithoutNoted<PlanAnswer> byFormula = WithAndWithoutNoted.Ask<PlanAnswer>(
            release.Rates(), r => Ask(r, request with { Simulations = 0 }), PlanQuestion.ChangeOf, request.Of);
        if (byFormula.All.Variances is not { } variances)
            throw new ConfigurationException($"No plan: {byFormula.All.Statement} State --variances instead.");
        Tell(settings, request, PlanQuestion.Ask(request, variances), byFormula.Without);
        return RecordedRun.Done;

        PlanAnswer Ask(ReleasedRates rates, PlanRequest asked)
        {
            (PlanVariances? found, string? statement) = PlanQuestion.VariancesOf(rates, campaigns, release.Id, asked.Of);
            return found is null ? PlanQuestion.WithoutVariances(asked, statement!)
                : PlanQuestion.Ask(asked, settings.Stated(found with
                {
                    Source = found.Source + (settings.Variances is null ? "" : "; in part as stated"),
                }));
        }
    }

    private void Tell(PlanSettings settings, PlanRequest request, PlanAnswer plan, WithoutNoted<PlanAnswer>? withoutNoted)
    {
        if (settings.Json)
        {
            screen.Json(new
            {
                plan.Of,
                plan.Design,
                plan.Effect,
                plan.WantedPower,
                plan.Variances,
                plan.Designs,
                plan.Best,
                plan.Statement,
                plan.Sentences,
                request.Loss,
                request.Dropout,
                request.Costs,
                request.Seed,
                withoutNoted,
            });
        }
        else
        {
            PlanReport.Write(screen, request, plan, withoutNoted?.Sentence);
        }

        if (settings.Csv is { } csv)
            PlanReport.WriteCsv(csv, request, plan);
        if (settings.Figure is not { } figure)
            return;
        if (PlanCharts.Of(request, plan) is { } chart)
            FigureFile.Save(figure, chart.Draw());
        else
            screen.ErrorLine("No figure was drawn: there is no design to show.");
    }
}
