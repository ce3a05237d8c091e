namespace DecayAtlas.Questions.Tests.Slopes;

/// <summary>Responses to warmth, held against R's <c>lm</c> where sites and burials are one (data/warmth.R), and as a release tells
/// them.</summary>
public class ResponsesToWarmth
{
    private static readonly WarmthRequest Both = new("temperature", "moisture", []);

    [Theory]
    [InlineData("q10", "none", 0.693201496436, 0.60721267606, 0.779190316813)]
    [InlineData("q10", "linear", 0.714690526838, 0.640155692487, 0.789225361189)]
    [InlineData("q10", "quadratic", 0.705451701692, 0.630421615811, 0.780481787573)]
    [InlineData("arrhenius", "none", 47.243532214, 41.6584473816, 52.8286170465)]
    [InlineData("lloyd-taylor", "none", 235.650280253, 208.274209146, 263.02635136)]
    public void Slopes_of_ln_k_are_those_of_R(string form, string moisture, double slope, double lower, double upper)
    {
        FittedWarmth found = Ask(Both).Responses.Single(r => (r.Form, r.Moisture) == (form, moisture));
        Func<double, double> told = form == "q10" ? Math.Exp : x => x;
        Near(told(slope), told(lower), told(upper), found.Sensitivity);
        // what the slope is taken times from 10 to 20 °C, as warmth.R prints it
        double ten = form switch { "q10" => 1, "arrhenius" => 0.0144896985549, _ => 0.00270384240882 };
        Near(Math.Exp(ten * slope), Math.Exp(ten * lower), Math.Exp(ten * upper), found.PerTenKelvin);
    }

    [Fact]
    public void The_curve_and_what_tells_forms_apart_are_those_of_R()
    {
        WarmthAnswer answer = Ask(new("temperature", null, []));
        Assert.Equal("lloyd-taylor", answer.Responses[0].Form);
        Near(0.0159678138793, 0.0147793441937, 0.0172518534477, answer.LineAt!(20));
        // AIC of both: between forms of as many numbers the correction is the same
        Assert.Equal(-21.41959324 - -21.8274318326,
            answer.Responses.Single(r => r.Form == "arrhenius").Aicc!.Value - answer.Responses[0].Aicc!.Value, 1e-6);
    }

    [Fact]
    public void A_straight_line_of_S_is_that_of_R()
    {
        FittedWarmth line = WarmthQuestion.Ask(
            new ReleasedRates(new ReleaseOfTwelveTemperatures(AskedOf.Stabilisation)), Both, AskedOf.Stabilisation)
            .Responses.Single(r => r.Moisture == "linear");
        Near(0.714690526838, 0.640155692487, 0.789225361189, line.PerTenKelvin);
    }

    [Fact]
    public void The_published_curve_gives_its_own_factor()
    {
        // Lloyd and Taylor 1994: R = R10 exp(308.56 (1/56.02 - 1/(T + 46.02))), 1 at 10 °C (from memory); at 20 °C by hand exp(308.56 ·
        // 0.00270384) = 2.3032
        Assert.Equal(2.3032, Math.Exp(308.56 * WarmthTerm.Of(WarmthForm.LloydTaylor, 20)), 1e-4);
        Assert.Equal(0, WarmthTerm.Of(WarmthForm.LloydTaylor, 10));
    }

    [Fact]
    public void What_can_not_be_told_is_said()
    {
        WarmthAnswer alike = WarmthQuestion.Ask(
            new ReleasedRates(new ReleaseOfTwelveTemperatures(temperatures: [.. Enumerable.Repeat(10.0, 12)])), Both);
        Assert.Empty(alike.Responses);
        Assert.Contains("can't be told apart", alike.Statement, StringComparison.Ordinal);
    }

    [Fact]
    public void A_release_tells_the_forms_that_stand_and_that_of_warmth_alone_with_the_numbers_of_the_question()
    {
        ReleaseAnswers answers =
            ReleaseAnswers.Of(new ReleaseOfTwelveTemperatures(), EvidenceChoice.Usual, Both);
        WarmthAnswer asked = Ask(Both), alone = Ask(new("temperature", null, []));
        ReleasedWarmth[] rows = [.. answers.Warmth.Where(w => w.Of == "k")];
        ReleasedWarmth first = rows.Single(r => r.Rank == 1), bare = rows.Where(r => r.IsBare).MinBy(r => r.Rank)!;
        Assert.Equal((asked.Responses[0].Form, "moisture", "linear"), (first.Form, first.Moisture, first.MoistureTerm));
        Assert.Equal((alone.Responses[0].Form, null, "lloyd-taylor"), (bare.Form, bare.Moisture, bare.Form));
        Assert.Equal(asked.Responses[0].PerTenKelvin, new(first.Ratio!.Value, first.RatioLower95!.Value, first.RatioUpper95!.Value));
        Assert.Equal(alone.Responses[0].PerTenKelvin, new(bare.Ratio!.Value, bare.RatioLower95!.Value, bare.RatioUpper95!.Value));
        Assert.Equal(asked.Sentences[0] + " " + asked.Sentences[1], first.Sentence);
        Assert.Equal((12, 2.1, 24.3), (first.Sites, first.ColdestCelsius, first.WarmestCelsius));
        Assert.All(rows, r => Assert.True(r.Rank == 1 || r.AiccAboveBest <= 2 || r.IsBare));
        // the curve of a row is that of the question, and holds the ratio of the row
        Assert.Equal(alone.LineAt!(17).Value, bare.At(17)!.Value, 1e-12);
        Assert.All(rows, r => Assert.Equal(r.Ratio!.Value, r.At(20)!.Value / r.At(10)!.Value, 1e-12));
        Assert.Equal(2, answers.Noted.Count(n => n.Answer == "warmth"));
    }

    [Theory]
    [InlineData(null, null, "The atlas has not been told which of its quantities is the temperature.")]
    [InlineData("heat", null, "heat is no covariate of the release; it has cover, kelvin, moisture, soil_code, temperature.")]
    [InlineData("temperature", "wetness", "wetness is no covariate of the release; it has cover, kelvin, moisture, soil_code, temperature.")]
    [InlineData("temperature", "cover", "cover is a class, and a number is needed.")]
    [InlineData("temperature", "soil_code", "soil_code is a class, and a number is needed.")]
    [InlineData("kelvin", null, "kelvin has the unit 'K', and a temperature must be in degC.")]
    public void A_release_without_the_covariates_says_so_and_goes_on(string? temperature, string? moisture, string sentence)
    {
        ReleaseAnswers answers = ReleaseAnswers.Of(new ReleaseOfTwelveTemperatures(), EvidenceChoice.Usual,
            temperature is null ? null : new WarmthRequest(temperature, moisture, []));
        Assert.Equal(["k", "s"], answers.Warmth.Select(w => w.Of));
        Assert.All(answers.Warmth, w => Assert.Equal("not-computed", w.Status));
        Assert.StartsWith(sentence, answers.Warmth[0].Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_class_and_another_unit_are_refused_where_a_number_is_asked_for()
    {
        ReleasedRates rates = new(new ReleaseOfTwelveTemperatures());
        Assert.Equal("cover is a class, and a number is needed.",
            Assert.Throws<ConfigurationException>(() => GroupQuestion.Ask(rates, "ecosystem", ["cover"])).Message);
        Assert.Equal("cover is a class, and a number is needed.",
            Assert.Throws<ConfigurationException>(() => RelateQuestion.Ask(rates, new("cover", []))).Message);
        Assert.Equal("soil_code is a class, and a number is needed.",
            Assert.Throws<ConfigurationException>(() => RelateQuestion.Ask(rates, new("soil_code", []))).Message);
        Assert.Equal("kelvin has the unit 'K', and a temperature must be in degC.",
            Assert.Throws<ConfigurationException>(() => Ask(new("kelvin", null, []))).Message);
    }

    [Fact]
    public void What_is_set_aside_for_its_plateau_is_told_with_its_warmth()
    {
        // 3 burials at 2.1 and 2 at 4.5 °C: (3 · 2.1 + 2 · 4.5) / 5 = 3.06; one each at the twelve temperatures, whose mean is 12.908
        WarmthAnswer answer = WarmthQuestion.Ask(
            new ReleasedRates(new ReleaseOfTwelveTemperatures(setAside: [3, 2])), new("temperature", null, []));
        Assert.Equal((5, 2), (answer.SetAside!.Burials, answer.SetAside.Sites));
        Assert.Equal(3.06, answer.SetAside.MeanCelsius!.Value, 1e-12);
        Assert.Contains(
            "5 burials of 2 sites are set aside, the fast litter having been dug up before its plateau (plateau-not-reached): their sites "
            + "have 3.1 °C in the mean, those of the burials that took part 12.9 °C. The suppositions plateau-taken and "
            + "plateau-taken-corrected of sensitivity take them in.", answer.Sentences);
        Assert.Null(Ask(new("temperature", null, [])).SetAside);
        Assert.DoesNotContain(Ask(new("temperature", null, [])).Sentences, s => s.Contains("set aside", StringComparison.Ordinal));
    }

    [Fact]
    public void The_figure_tells_and_draws_what_is_corrected_for_the_plateau_where_that_is_asked()
    {
        XyChart with = Figure(8), without = Figure(null);
        Assert.Contains("Corrected for a fast litter that was dug up before its plateau (dashed): ", with.Note, StringComparison.Ordinal);
        Assert.DoesNotContain("Corrected", without.Note, StringComparison.Ordinal);
        Assert.Equal(without.Layers.Count + 1, with.Layers.Count);

        static XyChart Figure(double? fastOverSlow) => (XyChart)ReleaseFigures.WarmthOf(
            Ask(new("temperature", null, [], FastOverSlow: fastOverSlow)))!;
    }

    /// <summary>Two retrievals of one burial place, by first-order loss of both litters with the fast one 8 times as fast, told by the
    /// two-litter equations.</summary>
    [Fact]
    public void Each_row_of_a_series_is_corrected_for_the_days_of_its_own_retrieval()
    {
        const double Rate = 0.004, Stabilisation = 0.25, FastOverSlow = 8;
        int[] days = [62, 118];
        ReleasedRates rates = new(new ReleaseOfTwelveTemperatures(plots: [.. days.Select((d, i) =>
        {
            double reached = 1 - Math.Exp(-FastOverSlow * Rate * d), lost = (1 - Math.Exp(-Rate * d)) / reached;
            return new PlotBurial("s00", "c", null, $"{i}", $"{i}", "", Math.Log(-Math.Log(1 - lost) / d), null,
                1 - (1 - Stabilisation) * reached, d);
        })]));
        IReadOnlyList<ReleasedPlot> corrected = FastPlateaus.Corrected(rates, FastOverSlow).Rows;
        Assert.Equal(2, corrected.Count);
        Assert.All(corrected, r => Assert.Equal(Rate, Math.Exp(r.LnRateMean!.Value), 1e-9));
        Assert.All(corrected, r => Assert.Equal(Stabilisation, r.StabilisationMean!.Value, 1e-7));
    }

    [Fact]
    public void A_release_tells_change_over_campaigns_as_R_does()
    {
        // lmerTest, data/slopes.R; four degrees of freedom at most: six campaigns less 2
        (double slope, _, _) = ReleaseOfSixCampaigns.Reference("trend");
        ReleasedTrend row = ReleaseAnswers.Of(new ReleaseOfSixCampaigns(), EvidenceChoice.Usual).Trend.Single(t => t.Of == "k");
        Assert.Equal(Math.Exp(slope), row.Ratio!.Value, 1e-5);
        Assert.Equal((6, 139, 18), (row.Campaigns, row.Burials, row.Sites));
        Assert.InRange(row.DegreesOfFreedom!.Value, 1, 4);
        ReleasedTrend none = ReleaseAnswers.Of(new ReleaseOfTwelveTemperatures(), EvidenceChoice.Usual).Trend.Single(t => t.Of == "k");
        Assert.Equal("not-computed", none.Status);
        Assert.StartsWith("No accepted burial in an untreated plot has", none.Sentence, StringComparison.Ordinal);
    }

    private static WarmthAnswer Ask(WarmthRequest request) =>
        WarmthQuestion.Ask(new ReleasedRates(new ReleaseOfTwelveTemperatures()), request);

    private static void Near(double value, double lower, double upper, IntervalEstimate found)
    {
        Assert.Equal(1, found.Value / value, 1e-8);
        Assert.Equal(1, found.Lower95 / lower, 1e-6);
        Assert.Equal(1, found.Upper95 / upper, 1e-6);
    }
}
