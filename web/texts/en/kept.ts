export const kept = {
  newVersion: 'A new version of this page is here. What you have typed stays.',
  takeIt: 'Use it now',
  withoutTitle: 'Opened without Catchbench',
  without:
    'The page comes from what this device has kept; nothing has been heard from Catchbench since it was opened. Plan, runs and figures come back by themselves once it is reached.',
  title: 'Without a connection',
  here: 'This device keeps the page: it opens without the network too, and then waits for Catchbench.',
  cannot:
    'This browser does not keep the page: it needs Catchbench each time it is opened. Browsers keep pages only from the same computer or over https.',
  looking: 'Looking whether this browser can keep the page …',
} as const;
