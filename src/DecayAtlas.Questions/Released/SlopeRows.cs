namespace DecayAtlas.Questions.Released;

/// <summary>Answers about slopes as a release carries them.</summary>
internal static class SlopeRows
{
    public static IEnumerable<ReleasedWarmth> Of(WarmthAnswer answer)
    {
        if (answer.Responses.Count == 0)
            return [new ReleasedWarmth { Of = answer.Of, Sentence = answer.Statement! }];
        AskedOf of = AskedOfNames.Parse(answer.Of);
        return answer.Told.Select(t => RowOf(answer, t.Response, of, t.Rank));
    }

    private static ReleasedWarmth RowOf(WarmthAnswer answer, FittedWarmth r, AskedOf of, int rank)
    {
        ReleasedWarmth row = new()
        {
            Of = answer.Of,
            Rank = rank,
            Form = r.Form,
            MoistureTerm = r.Moisture,
            AiccAboveBest = r.Aicc - answer.Responses[0].Aicc,
            Temperature = answer.Temperature,
            Moisture = r.Moisture == ReleasedWarmth.Bare ? null : answer.MoistureBy,
            HeldEqual = answer.With.Count == 0 ? null : string.Join(", ", answer.With),
            Burials = answer.Burials,
            Sites = answer.Sites,
            SitesLeftOut = answer.SitesLeftOut,
            ColdestCelsius = answer.Points.Min(p => p.TemperatureCelsius),
            WarmestCelsius = answer.Points.Max(p => p.TemperatureCelsius),
            MeanCelsius = answer.MeanCelsius,
            SetAsideBurials = answer.SetAside?.Burials ?? 0,
            SetAsideSites = answer.SetAside?.Sites ?? 0,
            SetAsideMeanCelsius = answer.SetAside?.MeanCelsius,
            ShareExplained = r.ShareExplained,
            Sentence = string.Join(' ', new[]
            {
                WarmthSentences.Finding(answer, r, of), rank == 1 ? WarmthSentences.Corrected(answer, of) : null,
                rank == 1 ? WarmthSentences.SetAside(answer) : null, WarmthSentences.Caution(of),
            }.OfType<string>()),
        };
        if (rank == 1 && answer.OverForms is { } over)
            row = row with { OverForms = over.Value, OverFormsLower95 = over.Lower95, OverFormsUpper95 = over.Upper95 };
        IntervalEstimate? corrected = rank == 1 ? r.PlateauCorrected?.PerTenKelvin : null;
        return of == AskedOf.Stabilisation
            ? row with
            {
                CorrectedDifference = corrected?.Value,
                CorrectedDifferenceLower95 = corrected?.Lower95,
                CorrectedDifferenceUpper95 = corrected?.Upper95,
                Difference = r.PerTenKelvin.Value,
                DifferenceLower95 = r.PerTenKelvin.Lower95,
                DifferenceUpper95 = r.PerTenKelvin.Upper95,
                StabilisationAtTen = r.AtTenCelsius,
            }
            : row with
            {
                CorrectedRatio = corrected?.Value,
                CorrectedRatioLower95 = corrected?.Lower95,
                CorrectedRatioUpper95 = corrected?.Upper95,
                Ratio = r.PerTenKelvin.Value,
                RatioLower95 = r.PerTenKelvin.Lower95,
                RatioUpper95 = r.PerTenKelvin.Upper95,
                Parameter = r.Sensitivity.Value,
                ParameterLower95 = r.Sensitivity.Lower95,
                ParameterUpper95 = r.Sensitivity.Upper95,
                RateAtTenPerDay = r.AtTenCelsius,
            };
    }

    public static ReleasedTrend Of(TrendAnswer answer)
    {
        ReleasedTrend row = new()
        {
            Of = answer.Of,
            Campaigns = answer.Campaigns.Count,
            Burials = answer.Burials,
            Sites = answer.Sites,
            SitesDugAgain = answer.SitesDugAgain,
            Sentence = answer.Statement ?? string.Join(' ', answer.Sentences),
        };
        if (answer.Slopes is not [{ PerYear: var year, DegreesOfFreedom: double degrees }, ..])
            return row;
        row = row with { DegreesOfFreedom = degrees };
        return answer.Of == AskedOf.Rate.Code()
            ? row with { Ratio = year.Value, RatioLower95 = year.Lower95, RatioUpper95 = year.Upper95 }
            : row with { Difference = year.Value, DifferenceLower95 = year.Lower95, DifferenceUpper95 = year.Upper95 };
    }
}
