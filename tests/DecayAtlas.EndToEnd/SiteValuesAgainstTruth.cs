using System.Globalization;

namespace DecayAtlas.EndToEnd;

/// <summary>Site values of the demo's release, held against what is true of the invented islands.</summary>
public sealed class SiteValuesAgainstTruth(DemoRun demo)
{
    [Theory]
    [InlineData("k", "ln(v.own_k_per_day) - ln(t.k_site_per_day)", "ln(v.k_per_day) - ln(t.k_site_per_day)",
        "t.k_site_per_day BETWEEN v.k_lower95 AND v.k_upper95")]
    [InlineData("s", "v.own_s - t.s_site", "v.s - t.s_site", "t.s_site BETWEEN v.s_lower95 AND v.s_upper95")]
    public void Sites_of_two_burials_come_nearer_to_the_truth_with_what_others_tell(string of, string own, string borrowed, string held)
    {
        object?[] row = Assert.Single(demo.Workspace.Query($"""
            SELECT count(*) FILTER (v.burials = 2), sqrt(avg(({own}) ** 2) FILTER (v.burials = 2)),
                   sqrt(avg(({borrowed}) ** 2) FILTER (v.burials = 2)), avg(({held})::INT)
            FROM read_parquet('atlas/current/site_values/*.parquet') v
            JOIN read_csv('scenario/truth/sites.csv') t ON v.site_key = t.contributor || '/' || t.site_id
            WHERE v.of = '{of}' AND v.records = 'all' AND v.status = 'computed' AND v.treatment IS NULL
            """));
        string said = string.Join(", ", row.Select(v => Convert.ToString(v, CultureInfo.InvariantCulture)));
        TestContext.Current.SendDiagnosticMessage($"{of}: {said}");
        Assert.True(Convert.ToInt64(row[0], CultureInfo.InvariantCulture) > 15, said);
        // S of a burial scatters by 0.012, so that two tell it about as well as all others could, and twenty sites do not show which is
        // nearer
        Assert.True((double)row[2]! < (of == "k" ? 1 : 1.3) * (double)row[1]!, said);
        Assert.True((double)row[3]! >= 0.92, said);
    }
}
