using Microsoft.ML;
using Microsoft.ML.Data;

namespace DecayAtlas.Prediction.Models;

/// <summary>Hands a table to ML.NET.</summary>
internal static class MlData
{
    public const string Features = nameof(Example.Features), Label = nameof(Example.Label), Weight = nameof(Example.Weight);

    /// <summary>Weights are scaled to a mean of 1, so that their unit cannot shift the balance with a penalty.</summary>
    public static IDataView View(MLContext ml, CovariateTable table)
    {
        double meanWeight = table.Weights.Average();
        Example[] examples = [.. Enumerable.Range(0, table.Count).Select(r => new Example
        {
            Features = table.FeaturesOf(r).ToArray(),
            Label = (float)table.Targets[r],
            Weight = (float)(table.Weights[r] / meanWeight),
        })];
        SchemaDefinition schema = SchemaDefinition.Create(typeof(Example));
        schema[Features].ColumnType = new VectorDataViewType(NumberDataViewType.Single, table.FeatureCount);
        return ml.Data.LoadFromEnumerable(examples, schema);
    }

    private sealed class Example
    {
        public float[] Features { get; set; } = [];

        public float Label { get; set; }

        public float Weight { get; set; }
    }
}
