[assembly: AssemblyFixture(typeof(DemoRun))]
