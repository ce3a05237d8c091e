using System.Collections.Concurrent;

namespace DecayAtlas.Prediction.Tests;

public class ProgressOfTraining
{
    [Fact]
    public void Training_is_seen_to_move_within_candidates_and_members_and_no_number_hangs_on_it()
    {
        TrainingSet set = InventedSites.Make(120, InventedSites.CurvedTruth, 0.1);
        TrainingOptions options = new() { Folds = 3, Trees = 10, SettingsTried = 1, ImportanceRepeats = 1, Members = 20 };
        ConcurrentQueue<(string What, int Done, int Of)> told = new();

        using RateModel watched = ModelTrainer.Train(set, options, (what, done, of) => told.Enqueue((what, done, of)));
        using RateModel alone = ModelTrainer.Train(set, options);

        Assert.Equal((1200, 1200), (told.Last().Done, told.Last().Of));
        Assert.All(told, step => Assert.InRange(step.Done, 0, step.Of));
        Assert.True(told.Select(step => step.Done).Distinct().Count() > 30, $"{told.Count}");
        Assert.True(told.Count(step => step.What == "Members") >= 10);
        Assert.Equal(alone.Card.WinnerScore().Blocked.FoldRmse, watched.Card.WinnerScore().Blocked.FoldRmse);
        Assert.Equal(alone.Card.Scores.Select(s => s.Random.Pooled), watched.Card.Scores.Select(s => s.Random.Pooled));
    }
}
