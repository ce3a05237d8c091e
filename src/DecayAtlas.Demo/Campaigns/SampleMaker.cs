using MathNet.Numerics.Distributions;

namespace DecayAtlas.Demo.Campaigns;

/// <summary>
/// What a laboratory finds in the slow bag of the first hole of a site. Invented, and of the soil alone: neither k nor S is looked at, so
/// that an analysis may find only what soil and decay have in common. Bacteria are most diverse in neutral soil, fungi gain where it is
/// sour, and there is more of everything where it is moist.
/// </summary>
internal sealed class SampleMaker(InventedWorld world, Random random)
{
    private const double MostDiversePh = 7;

    public void AddTo(ContributionDraft contribution)
    {
        foreach (BurialDraft burial in contribution.Burials.Where(burial => burial.Replicate == 1))
        {
            SiteDraft site = contribution.Sites.First(site => site.SiteId == burial.SiteId);
            double ph = world.Ph.At(site.LongitudeDegrees, site.LatitudeDegrees);
            double moisture = world.SoilMoisture.At(site.LongitudeDegrees, site.LatitudeDegrees);
            double sourness = MostDiversePh - ph;
            double bacteria = Math.Exp(21 + (3 * moisture) + Gauss(0.3)), fungi = bacteria * Math.Exp(-4 + (0.5 * sourness) + Gauss(0.3));
            contribution.Samples.Add(Sequenced(contribution, burial, "16S rRNA", 1800 - (120 * sourness * sourness)) with
            {
                GeneCopiesPerGramDry = Rounded(bacteria),
                FungiToBacteria = Rounded(fungi / bacteria),
            });
            SampleDraft fungal = Sequenced(contribution, burial, "ITS", 260 + (25 * sourness)) with
            {
                GeneCopiesPerGramDry = Rounded(fungi),
            };
            // one site in three was counted only, and never sequenced
            contribution.Samples.Add(contribution.Samples.Count % 6 == 1
                ? fungal with { Accession = null, Richness = null, Shannon = null } : fungal);
        }
    }

    private SampleDraft Sequenced(ContributionDraft contribution, BurialDraft burial, string gene, double expectedRichness)
    {
        double richness = Math.Round(expectedRichness * Math.Exp(Gauss(0.1)));
        int serial = contribution.Samples.Count + 1;
        return new SampleDraft($"{burial.Slow.BagId}-{gene.Split(' ')[0]}", burial.Slow.BagId, gene)
        {
            Accession = $"DEMO{contribution.Campaign.Mark}{contribution.Contributor.Id.Length:00}{serial:0000}",
            Richness = richness,
            // an evenness (Pielou 1966) round 0.75
            Shannon = Math.Round(Math.Log(richness) * (0.75 + Gauss(0.04)), 2),
        };
    }

    private double Gauss(double sd) => Normal.Sample(random, 0, sd);

    // Three digits, as a report gives them.
    private static double Rounded(double value)
    {
        double unit = Math.Pow(10, Math.Floor(Math.Log10(value)) - 2);
        return Math.Round(value / unit) * unit;
    }
}
