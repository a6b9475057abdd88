// One of the fuzz tests looks at the memory in use, which other tests at the same time would blur.
[assembly: CollectionBehavior(DisableTestParallelization = true)]
