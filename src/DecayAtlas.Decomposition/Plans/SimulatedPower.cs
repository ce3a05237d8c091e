namespace DecayAtlas.Decomposition.Plans;

/// <summary>In how many simulated campaigns a planned comparison showed the difference.</summary>
/// <param name="Unanswered">Of the campaigns, those that gave no answer; they count as not seen.</param>
public sealed record SimulatedPower(int Campaigns, int Seen, int Unanswered)
{
    public double Power => Seen / (double)Campaigns;

    /// <summary>Standard error of <see cref="Power"/> from the number of campaigns.</summary>
    public double MonteCarloError => Math.Sqrt(Power * (1 - Power) / Campaigns);

    /// <summary>Simulates; each campaign has random numbers of its own, so that their order is nothing.</summary>
    public static SimulatedPower Of(
        PlannedDesign design, PlanVariances variances, double difference, int campaigns, ulong seed, double level = 0.05)
    {
        double?[] probabilities = new double?[campaigns];
        Parallel.For(0, campaigns, i => probabilities[i] =
            SimulatedCampaign.Probability(design, variances, difference, new RandomStream(seed, $"planned campaign {i}")));
        return new SimulatedPower(campaigns, probabilities.Count(p => p < level), probabilities.Count(p => p is null));
    }
}
